// Compares what cutlint reads of drawings with what a browser does: the box and the length of each
// shape. The drawings come from the npm packages of package.json, installed into the build folder.
// Usage: node compare.mjs SHAPES FOLDER. Exit status 77: a tool or the packages are missing.
import { execFileSync, spawnSync } from "node:child_process";
import { readFileSync, readdirSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { install, skip } from "../npm.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const [shapesProgram, folder] = process.argv.slice(2);
const MM_PER_PX = 25.4 / 96;

// Of each folder so many drawings, evenly spread over its list.
const SOURCES = [
	["node_modules/@twemoji/svg", 160],
	["node_modules/bootstrap-icons/icons", 140],
	["node_modules/lucide-static/icons", 140],
	["node_modules/flag-icons/flags/4x3", 271],
	["node_modules/svg-country-flags/svg", 256],
	["node_modules/typicons.font/src/svg", 60],
	["node_modules/font-gis/svg", 80],
	["node_modules/@mapbox/maki/icons", 40],
	["node_modules/@svg-maps/world", 1],
];

// Within 0.02 mm, or one thousandth.
const NEAR_MM = 0.02;
const NEAR_SHARE = 0.001;

// A drawing that reaches farther is refused: docs/drawings.md.
const MOST_MM = 2000;

// Shapes where the two differ, with the reason.
const COARSE = "the browser measures small narrow arcs coarsely: with all numbers of the path a " +
	"thousand times as large its length is within 0.02 % of cutlint's";
const EXCEPTIONS = {
	"flag-icons/flags/4x3/eac.svg 33":
		"the path ends in a moveto, which draws nothing; the browser's box holds its point",
	"flag-icons/flags/4x3/py.svg 25": COARSE,
	"flag-icons/flags/4x3/py.svg 28": COARSE,
	"flag-icons/flags/4x3/py.svg 37": COARSE,
};

function choose() {
	return SOURCES.flatMap(([path, count]) => {
		const all = readdirSync(join(folder, path), { recursive: true })
			.filter((name) => name.endsWith(".svg")).sort();
		const wanted = Math.min(count, all.length);
		return Array.from({ length: wanted }, (_, i) =>
			join(folder, path, all[Math.floor((i * all.length) / wanted)]));
	});
}

function askBrowser(files) {
	const texts = files.map((file) => readFileSync(file, "utf8"));
	const script = readFileSync(join(here, "page.js"), "utf8");
	const data = JSON.stringify(texts).replaceAll("<", "\\u003c");
	const page = join(folder, "page.html");
	writeFileSync(page, `<!DOCTYPE html><meta charset="utf-8"><body><script>const drawings = ${data};
${script}</script>`);
	const chromium = spawnSync("chromium", ["--headless", "--no-sandbox", "--disable-gpu",
		"--force-device-scale-factor=1", `--user-data-dir=${join(folder, "profile")}`, "--dump-dom",
		`file://${page}`], { encoding: "utf8", maxBuffer: 1 << 28, timeout: 240000 });
	if (chromium.error && chromium.error.code === "ENOENT")
		skip("chromium is not installed");
	const found = /RESULT (\S+) END/.exec(chromium.stdout ?? "");
	if (!found)
		throw new Error(`the browser gave no result: ${(chromium.stderr ?? "").slice(0, 500)}`);
	return JSON.parse(Buffer.from(found[1], "base64").toString("utf8"));
}

function askCutlint(files) {
	const list = join(folder, "list");
	writeFileSync(list, files.map((file) => `${file}\n`).join(""));
	const text = execFileSync(shapesProgram, [list], { encoding: "utf8", maxBuffer: 1 << 28 });
	const drawings = files.map(() => new Map());
	for (const line of text.split("\n").filter(Boolean)) {
		const [number, key, ...figures] = line.split(" ");
		if (key === "too-large") {
			drawings[number].tooLarge = true;
			continue;
		}
		const values = figures.map(Number);
		drawings[number].set(key, { corners: values.slice(0, 8), length: values[8], unit: values[9] });
	}
	return drawings;
}

function isNear(a, b, size) {
	return Math.abs(a - b) <= Math.max(NEAR_MM, NEAR_SHARE * size);
}

// What differs, or null.
function difference(theirs, ours) {
	if (!ours)
		return theirs.length > 0 ? "cutlint draws nothing" : null;
	const corners = theirs.corners.map((px) => px * MM_PER_PX);
	const size = Math.hypot(corners[4] - corners[0], corners[5] - corners[1]);
	for (let i = 0; i < 8; i++) {
		if (!isNear(corners[i], ours.corners[i], size))
			return `box ${corners.map((mm) => mm.toFixed(4))}, not ${ours.corners}`;
	}
	const length = theirs.length * ours.unit;
	if (!isNear(length, ours.length * ours.unit, length))
		return `length ${length.toFixed(4)} mm, not ${(ours.length * ours.unit).toFixed(4)}`;
	return null;
}

function compareDrawing(file, theirs, ours, tally) {
	const name = file.slice(join(folder, "node_modules").length + 1);
	const say = (key, what) => {
		const place = `${name} ${key}`;
		if (EXCEPTIONS[place]) {
			tally.excepted++;
			console.log(`${place}: ${what}\n  exception: ${EXCEPTIONS[place]}`);
			return;
		}
		tally.different++;
		if (tally.different <= 40)
			console.log(`${place}: ${what}`);
	};
	if (theirs.error) {
		say("-", theirs.error);
		return;
	}
	const seen = new Set();
	if (ours.tooLarge) {
		const reached = Math.max(...theirs.shapes.flatMap(({ corners }) => corners)) * MM_PER_PX;
		if (reached > MOST_MM)
			tally.tooLarge++;
		else
			say("-", `refused, though it reaches ${reached.toFixed(2)} mm only`);
		return;
	}
	for (const shape of theirs.shapes) {
		tally.shapes++;
		seen.add(shape.key);
		const what = difference(shape, ours.get(shape.key));
		if (what)
			say(shape.key, what);
	}
	for (const key of ours.keys()) {
		if (!seen.has(key))
			say(key, "the browser draws nothing");
	}
}

install(here, folder);
const files = choose();
const theirs = askBrowser(files);
const ours = askCutlint(files);
const tally = { shapes: 0, different: 0, excepted: 0, tooLarge: 0 };
files.forEach((file, i) => compareDrawing(file, theirs[i], ours[i], tally));
console.log(`${files.length} drawings, ${tally.shapes} shapes: ${tally.different} differ, ` +
	`${tally.excepted} are exceptions with a reason; ${tally.tooLarge} drawings reach beyond 2 m`);
process.exit(tally.different === 0 && files.length >= 400 ? 0 : 1);
