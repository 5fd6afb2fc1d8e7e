// Opens proofs in Chromium: marks in their true places, zoom and keys, nothing fetched, no
// complaint, no barrier that axe-core knows of, true size on paper.
// Usage: node proof.mjs CUTLINT WORKLOAD CORPUS FOLDER. Exit status 77: a tool or the packages are missing.
import { execFileSync, spawnSync } from "node:child_process";
import { existsSync, mkdirSync, openSync, closeSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { install, skip } from "../npm.mjs";
import { DRAWINGS } from "./proof-drawings.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const [cutlint, workload, corpus, folder] = process.argv.slice(2);
const CHROMIUM = "/usr/bin/chromium";
// CSS Values and Units 4, 6.2: 1in = 2.54cm = 96px.
const PX_PER_MM = 96 / 25.4;
const NEAR_MM = 0.1;

if (!existsSync(CHROMIUM))
	skip("chromium is not installed");
install(join(here, "proof"), folder);
const require = createRequire(pathToFileURL(join(folder, "package.json")));
const { chromium } = require("playwright-core");
const axe = readFileSync(require.resolve("axe-core/axe.min.js"), "utf8");

let faults = 0;
function check(good, what) {
	if (good)
		return;
	faults++;
	console.log(`FAULT: ${what}`);
}

function prove(name, drawing) {
	const page = join(folder, "pages", `${name}.html`);
	execFileSync(cutlint, ["proof", "-q", "-o", page, drawing]);
	return page;
}

function makePages() {
	mkdirSync(join(folder, "pages"), { recursive: true });
	const pages = {
		draft: prove("draft", join(corpus, "demo/lantern-walk-draft.svg")),
		clean: prove("clean", join(corpus, "demo/lantern-walk.svg")),
		loose: prove("loose", join(corpus, "rules/loose-part/bad-letter-o.svg")),
		sheet: prove("sheet", join(corpus, "sheets/bad-a-fault-on-each.svg")),
	};
	for (const [name, text] of Object.entries(DRAWINGS)) {
		const drawing = join(folder, "pages", `${name}.svg`);
		writeFileSync(drawing, text);
		pages[name] = prove(name, drawing);
	}
	return pages;
}

// A page whose requests, messages and dialogs are kept; each is a fault.
async function open(browser, name, file, options) {
	const page = await browser.newPage(options);
	const url = pathToFileURL(file).href;
	page.on("request", (request) => check(request.url() === url, `${name} asks for ${request.url()}`));
	page.on("console", (message) => check(false, `${name} says: ${message.text()}`));
	page.on("pageerror", (error) => check(false, `${name} fails: ${error.message}`));
	page.on("dialog", (dialog) => check(false, `${name} shows a dialog: ${dialog.message()}`));
	page.on("popup", () => check(false, `${name} opens a window`));
	await page.goto(url);
	return page;
}

// Where each mark's ring is seen, measured on the screen and led back to mm of the sheet.
function seenMarks(page) {
	return page.evaluate(() => {
		const picture = document.querySelector("#stage svg");
		const view = picture.viewBox.baseVal, box = picture.getBoundingClientRect();
		const scale = box.width / view.width;
		const place = (x, y) => [view.x + (x - box.left) / scale, view.y + (y - box.top) / scale];
		return [...document.querySelectorAll(".mark")].map((mark) => {
			const spot = mark.querySelector(".spot").getBoundingClientRect();
			const spans = [...mark.querySelectorAll(".span > line, .measured")].map((span) => {
				const edge = span.getBoundingClientRect();
				return [...place(edge.left, edge.top), ...place(edge.right, edge.bottom)];
			});
			return {
				id: mark.id,
				at: place(spot.left + spot.width / 2, spot.top + spot.height / 2),
				spans,
				label: mark.getAttribute("aria-label"),
			};
		});
	});
}

function isNear(a, b) {
	return a.every((figure, i) => Math.abs(figure - b[i]) <= NEAR_MM);
}

// Known from how the drawing is made; see proof-drawings.mjs.
async function checkPlaces(browser, pages) {
	const page = await open(browser, "places", pages.places, { viewport: { width: 1280, height: 900 } });
	const expected = [
		{ word: "opening", at: [30, 20], span: [29.8, 19.8, 30.2, 20.2] },
		{ word: "thin wall", at: [65.4, 30], span: [65, 30, 65.4, 30] },
		{ word: "gap", at: [100.5, 20], span: [100, 20, 100.5, 20] },
	];
	for (const zoom of [null, "in", "in", "in"]) {
		if (zoom)
			await page.click(`button[data-zoom=${zoom}]`);
		const marks = await seenMarks(page);
		for (const { word, at, span } of expected) {
			const mark = marks.find(({ label }) => label.includes(word));
			check(mark && isNear(mark.at, at), `mark of the ${word}: ${JSON.stringify(mark)}, not ${at}`);
			check(mark?.spans.some((seen) => isNear(seen, span)),
				`figure of the ${word}: ${JSON.stringify(mark?.spans)}, not ${span}`);
		}
	}
	await page.close();
}

async function checkEachMark(page, name) {
	const count = await page.locator(".finding a.go").count();
	const marks = await seenMarks(page);
	check(marks.length === count, `${name}: ${count} findings with a place, ${marks.length} marks`);
	for (const mark of marks) {
		const data = await page.locator(`#${mark.id} > g:last-child`).getAttribute("transform");
		const at = data.match(/-?[\d.]+/g).map(Number);
		check(isNear(mark.at, at), `${name} ${mark.id} is seen at ${mark.at}, not ${at}`);
	}
}

// A drawing of the corpus whose finding is measured between two places, for each such rule. The lines
// are as long on the screen as their labels say.
const MEASURED = ["bridge-width/bad-two-windows", "card-margin/bad-past-bed", "closed-path/bad-burns-shut",
	"crowded-cuts/bad-lattice", "duplicate-outline/bad-shared-side", "envelope-fit/bad-a5-in-c6",
	"fine-tip/bad-between-cuts", "fold-clearance/bad-beside-the-burn", "fold-line/bad-stops-short",
	"hole-size/bad-frost-cross", "inset-fit/bad-beside-the-card", "loose-part/bad-small-counter",
	"name-fit/bad-near-the-fold", "page-scale/bad-just-over", "set-fit/bad-gap-by-transform",
	"unseen-art/bad-broad-stroke", "weak-hold/bad-two-slim-bridges"];

function proveCase(name) {
	const text = readFileSync(join(corpus, `rules/${name}.svg`), "utf8");
	const job = /<!-- job\n([\s\S]*?)-->/.exec(text)?.[1];
	const drawing = join(folder, "pages", "case.svg"), jobFile = join(folder, "pages", "case.job");
	writeFileSync(drawing, text);
	writeFileSync(jobFile, job ?? "");
	const page = join(folder, "pages", "case.html");
	execFileSync(cutlint, ["proof", "-q", ...(job ? ["--job", jobFile] : []), "-o", page, drawing]);
	return page;
}

function seenDimensions(page, rule) {
	return page.evaluate((name) => {
		const picture = document.querySelector("#stage svg");
		const scale = picture.getBoundingClientRect().width / picture.viewBox.baseVal.width;
		const items = [...document.querySelectorAll(".finding")].filter((item) =>
			item.querySelector(".place").textContent.includes(`[${name}]`));
		const marks = items.map(({ id }) => document.getElementById(id.replace("finding", "mark")));
		const shapes = marks.flatMap((mark) => [...mark?.querySelectorAll(".span > line, circle.measured") ?? []]);
		return shapes.map((shape) => {
			const { width, height } = shape.getBoundingClientRect();
			const label = (shape.tagName === "line" ? shape.parentNode : shape).nextElementSibling;
			return {
				seen: (shape.tagName === "line" ? Math.hypot(width, height) : width) / scale,
				said: Number.parseFloat(label.querySelector("text:last-child").textContent.replace(/^[^0-9]*/, "")),
			};
		});
	}, rule);
}

async function checkDimensions(browser) {
	for (const name of MEASURED) {
		const page = await open(browser, name, proveCase(name), { viewport: { width: 1280, height: 900 } });
		const dimensions = await seenDimensions(page, name.split("/")[0]);
		check(dimensions.length > 0, `${name} has no dimension line`);
		for (const { seen, said } of dimensions)
			check(Math.abs(seen - said) <= NEAR_MM, `${name}: a line of ${seen} mm says ${said} mm`);
		await page.close();
	}
}

function isShown(page, number) {
	return page.evaluate((id) => {
		const stage = document.getElementById("stage").getBoundingClientRect();
		const spot = document.querySelector(`#${id} .spot`).getBoundingClientRect();
		const picture = document.querySelector("#stage svg").getBoundingClientRect();
		return {
			inside: spot.left >= stage.left && spot.right <= stage.right && spot.top >= stage.top &&
				spot.bottom <= stage.bottom,
			times: picture.width / stage.width,
			focus: document.activeElement.closest(".finding")?.id,
			voice: document.getElementById("voice").textContent,
		};
	}, `mark-${number}`);
}

async function checkZoomAndKeys(browser, pages) {
	const page = await open(browser, "draft", pages.draft, { viewport: { width: 1280, height: 900 } });
	await checkEachMark(page, "draft");
	await page.click("#finding-5 a.go");
	let shown = await isShown(page, 5);
	check(shown.inside && shown.times > 3, `choosing finding 5 shows it: ${JSON.stringify(shown)}`);
	check(shown.voice.includes("5"), `it is said: ${shown.voice}`);
	await page.keyboard.press("ArrowDown");
	await page.keyboard.press("Enter");
	shown = await isShown(page, 6);
	check(shown.focus === "finding-6" && shown.inside && shown.times > 3,
		`arrow and Enter lead to finding 6: ${JSON.stringify(shown)}`);
	await page.keyboard.press("ArrowUp");
	await page.keyboard.press("ArrowUp");
	check((await isShown(page, 4)).focus === "finding-4", "arrows lead back");
	await page.keyboard.press("Escape");
	shown = await isShown(page, 6);
	check(Math.abs(shown.times - 1) < 0.05, `Escape shows the whole sheet: ${JSON.stringify(shown)}`);
	await page.locator("#mark-7 .disc").click();
	shown = await isShown(page, 7);
	check(shown.focus === "finding-7" && shown.inside, `a mark leads to its finding: ${JSON.stringify(shown)}`);
	await page.locator("#stage").focus();
	const scrolled = () => page.evaluate(() => document.getElementById("stage").scrollLeft);
	const before = await scrolled();
	let after = before;
	// The browser scrolls smoothly, when it comes to it.
	for (let i = 0; i < 50 && after <= before; i++) {
		await page.keyboard.press("ArrowRight");
		await page.waitForTimeout(100);
		after = await scrolled();
	}
	check(after > before, `arrows pan the stage: ${before} to ${after}`);
	await page.uncheck("#show-order");
	check(!(await page.locator(".order").isVisible()), "order and travel can be hidden");
	await page.close();
}

async function checkWithoutScript(browser, pages) {
	const context = await browser.newContext({ javaScriptEnabled: false, viewport: { width: 1280, height: 900 } });
	const page = await context.newPage();
	await page.goto(pathToFileURL(pages.draft).href);
	check(!(await page.locator(".buttons").isVisible()), "buttons that need the script are not shown without it");
	const narrow = await page.locator("#stage svg").boundingBox();
	await page.click("#finding-5 a.go");
	await page.waitForTimeout(200);
	const wide = await page.locator("#stage svg").boundingBox();
	const spot = await page.locator("#mark-5 .spot").boundingBox();
	const stage = await page.locator("#stage").boundingBox();
	check(wide.width > 5 * narrow.width, "without the script a finding is enlarged, too");
	check(spot.x > stage.x && spot.x < stage.x + stage.width && spot.y > stage.y &&
		spot.y < stage.y + stage.height, `and in view: ${JSON.stringify({ spot, stage })}`);
	for (const id of ["look", "burn", "heat", "facts", "cautions"])
		check(await page.locator(`#${id} h2`).isVisible(), `#${id} is there without the script`);
	await context.close();
}

async function checkBarriers(browser, pages) {
	for (const name of ["draft", "clean", "loose", "hostile"]) {
		for (const [width, colorScheme] of [[1280, "light"], [1280, "dark"], [360, "light"], [360, "dark"]]) {
			const page = await open(browser, name, pages[name], { viewport: { width, height: 900 }, colorScheme });
			await page.screenshot({ path: join(folder, "pages", `${name}-${width}-${colorScheme}.png`), fullPage: true });
			const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
			check(overflow <= 0, `${name} is ${overflow} px wider than ${width} px`);
			// The page's policy keeps scripts out; the driver's own way past it is not the page's.
			const { violations } = await page.evaluate(`(() => { ${axe}; return axe.run(); })()`);
			for (const { id, nodes } of violations)
				check(false, `${name} ${width} ${colorScheme}: ${id}: ${nodes.map(({ html }) => html.slice(0, 200)).slice(0, 3).join(" ")}`);
			await page.close();
		}
	}
}

// Letters in pictures are seen this large at least, in CSS px.
const LETTER_PX = 11;

function seenLetters(page, selector) {
	return page.evaluate((wanted) => [...document.querySelectorAll(wanted)]
		.filter((text) => text.getClientRects().length > 0)
		.map((text) => {
			const { a, b } = text.getScreenCTM();
			return { text: text.textContent, px: parseFloat(getComputedStyle(text).fontSize) * Math.hypot(a, b) };
		}), selector);
}

async function checkLetters(browser, pages) {
	const views = [
		{ width: 360, javaScriptEnabled: true, selector: "main svg text" },
		{ width: 360, javaScriptEnabled: false, selector: "main svg text" },
		{ width: 700, javaScriptEnabled: true, selector: ".plate:not(.bench) svg text" },
		{ width: 1280, javaScriptEnabled: true, selector: ".plate:not(.bench) svg text" },
	];
	for (const name of ["draft", "clean", "loose", "sheet"]) {
		for (const { width, javaScriptEnabled, selector } of views) {
			const page = await browser.newPage({ javaScriptEnabled, viewport: { width, height: 900 } });
			await page.goto(pathToFileURL(pages[name]).href);
			const letters = await seenLetters(page, selector);
			check(letters.length > 0, `${name} has letters at ${width} px`);
			for (const { text, px } of letters)
				check(px >= LETTER_PX - 0.01, `${name} at ${width} px: '${text}' is ${px.toFixed(2)} px large`);
			const overflow = await page.evaluate(() => document.documentElement.scrollWidth - innerWidth);
			check(overflow <= 0, `${name} is ${overflow} px wider than ${width} px`);
			await page.close();
		}
	}
}

async function checkPaper(browser, pages) {
	const page = await open(browser, "clean", pages.clean, { viewport: { width: 1040, height: 700 } });
	const pdf = await page.pdf({ preferCSSPageSize: true });
	writeFileSync(join(folder, "pages", "clean.pdf"), pdf);
	// ISO 216: A4 is 210 mm x 297 mm; a point is 1/72 in.
	const boxes = [...pdf.toString("latin1").matchAll(/MediaBox\s*\[\s*([\d. ]+)\]/g)];
	check(boxes.length > 0, "the printed page has sizes");
	for (const [, figures] of boxes) {
		const [, , x, y] = figures.trim().split(/\s+/).map((point) => point / 72 * 25.4);
		check(Math.abs(Math.max(x, y) - 297) < 0.5 && Math.abs(Math.min(x, y) - 210) < 0.5,
			`a sheet of paper is ${x} mm x ${y} mm`);
	}
	await page.emulateMedia({ media: "print" });
	for (const { text, px } of await seenLetters(page, ".above, .below"))
		check(Math.abs(px / PX_PER_MM - 3.2) < 0.05, `'${text}' is ${px / PX_PER_MM} mm large on paper, not 3.2 mm`);
	const rulers = await page.evaluate(() => [...document.querySelectorAll(".ruler > line")].map((line) =>
		line.getBoundingClientRect().width));
	check(rulers.length === 3, `three pictures have a ruler, not ${rulers.length}`);
	for (const ruler of rulers)
		check(Math.abs(ruler / PX_PER_MM - 100) < 0.1, `a ruler of 100 mm is ${ruler / PX_PER_MM} mm on paper`);
	await page.close();
}

async function checkHostile(browser, pages) {
	const page = await open(browser, "hostile", pages.hostile, { viewport: { width: 1280, height: 900 } });
	await page.mouse.move(200, 400);
	for (const go of await page.locator("a.go").all())
		await go.click();
	const harm = await page.evaluate(() => ({
		scripts: document.scripts.length,
		frames: frames.length,
		handlers: [...document.querySelectorAll("*")].filter((element) =>
			[...element.attributes].some(({ name }) => name.startsWith("on"))).length,
		struck: globalThis.struck,
	}));
	check(harm.scripts === 1 && harm.frames === 0 && harm.handlers === 0 && harm.struck === undefined,
		`a hostile drawing does nothing: ${JSON.stringify(harm)}`);
	await page.close();
}

// Large enough to be simplified; the whole million is for people with time.
async function checkLarge(browser) {
	const drawing = join(folder, "pages", "large.svg"), file = openSync(drawing, "w");
	spawnSync(workload, ["windows", process.env.CUTLINT_PROOF_SEGMENTS ?? "120000"], { stdio: ["ignore", file, "inherit"] });
	closeSync(file);
	const proof = prove("large", drawing);
	const share = statSync(proof).size / statSync(drawing).size;
	check(share <= 1.5, `a page of a large drawing is ${share.toFixed(2)} times its size`);
	const page = await open(browser, "large", proof, { viewport: { width: 1280, height: 900 } });
	check((await page.locator(".simplified").textContent()).includes("0.02 mm"), "it says that it is simplified");
	await page.click("button[data-zoom=in]");
	await page.evaluate(() => { document.getElementById("stage").scrollLeft += 200; });
	const marks = await page.locator(".mark").count();
	check(marks === await page.locator("a.go").count() && marks > 0, `a large drawing has ${marks} marks`);
	await page.close();
}

const pages = makePages();
const browser = await chromium.launch({ executablePath: CHROMIUM, args: ["--no-sandbox"] });
await checkPlaces(browser, pages);
await checkDimensions(browser);
await checkZoomAndKeys(browser, pages);
await checkWithoutScript(browser, pages);
await checkBarriers(browser, pages);
await checkLetters(browser, pages);
await checkPaper(browser, pages);
await checkHostile(browser, pages);
await checkLarge(browser);
await browser.close();
console.log(faults ? `${faults} faults` : "no faults");
process.exit(faults ? 1 : 0);
