// Checks the log of the whole corpus, in many encodings and forms: against OASIS's schema of SARIF
// 2.1.0, against what the standard asks beyond it, and against the command's own text.
// Usage: node schema.mjs CUTLINT CORPUS FOLDER. Exit status 77: the packages are missing.
import { spawnSync } from "node:child_process";
import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath, pathToFileURL } from "node:url";
import { install } from "../npm.mjs";
import { writeCases } from "./cases.mjs";
import { writeFixed } from "./fixes.mjs";
import { Regions } from "./regions.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const [cutlint, corpus, folder] = process.argv.slice(2).map((path) => resolve(path));
const faults = [];
const say = (what) => faults.push(what);

install(join(here, "schema"), folder);
const require = createRequire(pathToFileURL(join(folder, "package.json")));

function makeValidator() {
	const path = "node_modules/@microsoft/jest-sarif/lib/schemas/sarif-2.1.0-rtm.5.json";
	const Ajv = require("ajv-draft-04");
	// The schema's pattern of languages is no pattern of ECMAScript's u flag.
	const ajv = new Ajv({ strict: false, unicodeRegExp: false, allErrors: true });
	require("ajv-formats")(ajv);
	return ajv.compile(JSON.parse(readFileSync(join(folder, path), "utf8")));
}

function check(files, cases, format) {
	const ran = spawnSync(cutlint, ["check", "-q", "--format", format, "--", ...files],
		{ cwd: cases, encoding: "utf8", maxBuffer: 1 << 28 });
	return { text: ran.stdout, status: ran.status };
}

// 3.27.6, 3.52.3: the index leads to the rule's descriptor.
function checkRule(run, result) {
	if (run.tool.driver.rules[result.ruleIndex]?.id !== result.ruleId)
		say(`${result.ruleId} is not rule ${result.ruleIndex}`);
}

// 3.29.5: a proper superset of the region; how short it stays on long lines is a choice.
let contexts = 0;
function checkContext(regions, { artifactLocation, region, contextRegion: around }) {
	if (!around)
		return;
	contexts++;
	const fault = regions.fault(artifactLocation.index, around);
	const end = ({ charOffset, charLength }) => charOffset + charLength;
	if (fault)
		say(`${artifactLocation.uri}, round ${JSON.stringify(region)}: ${fault}`);
	if (around.charOffset > region.charOffset || end(around) < end(region) ||
		around.charLength <= region.charLength)
		say(`${artifactLocation.uri}: ${JSON.stringify(around)} is not round ${JSON.stringify(region)}`);
	if (around.charLength > 320 || around.startLine !== region.startLine || around.endLine !== region.endLine)
		say(`${artifactLocation.uri}: ${JSON.stringify(around)} is too large`);
}

// 3.4.5: index and uri denote one file.
function checkLocation(run, regions, location) {
	const { artifactLocation, region } = location.physicalLocation;
	const artifact = run.artifacts[artifactLocation.index];
	if (artifact?.location.uri !== artifactLocation.uri)
		say(`${artifactLocation.uri} is not artifact ${artifactLocation.index}`);
	const fault = region && regions.fault(artifactLocation.index, region);
	if (fault)
		say(`${artifactLocation.uri} ${JSON.stringify(region)}: ${fault}`);
	checkContext(regions, location.physicalLocation);
	if (!region && !artifactLocation.uri.includes("missing"))
		say(`${artifactLocation.uri}: a result without a region`);
}

function placesOf(result) {
	const silences = (result.suppressions ?? []).map((suppression) => suppression.location);
	return [...result.locations, ...(result.relatedLocations ?? []), ...silences];
}

const fingerprint = (result) => result.partialFingerprints["cutlint/v1"];

// 3.27.17: different for any two results of a file.
function fingerprintsOf(run) {
	const byFile = new Map(run.artifacts.map((_, index) => [index, []]));
	for (const result of run.results)
		byFile.get(result.locations[0].physicalLocation.artifactLocation.index).push(result);
	for (const results of byFile.values()) {
		const all = results.map(fingerprint);
		if (new Set(all).size !== all.length)
			say(`two results with one fingerprint: ${results[0].ruleId}`);
	}
	return byFile;
}

function prints(run, byFile, path) {
	let index = run.artifacts.findIndex(({ location }) => decodeURIComponent(location.uri) === path);
	const nested = run.artifacts.findIndex(({ parentIndex }) => parentIndex === index);
	index = nested < 0 ? index : nested;
	return byFile.get(index).map(fingerprint).sort();
}

// The same drawing in another form has the same fingerprints.
function checkForms(run, cases) {
	const byFile = fingerprintsOf(run);
	let compared = 0;
	for (const { path, form, like } of cases) {
		const [mine, theirs] = [path, like].map((file) => prints(run, byFile, file));
		compared += mine.length;
		if (mine.join() !== theirs.join())
			say(`${path}: fingerprints change when the file is ${form}`);
	}
	return compared;
}

// A fix takes its finding away, and brings no other of its rule.
function checkFixes(run, cases) {
	const fixed = writeFixed(run, cases);
	const log = JSON.parse(check(fixed.map(({ path }) => path), cases, "sarif").text).runs[0];
	const [before, after] = [fingerprintsOf(run), fingerprintsOf(log)];
	for (const { result, path, from } of fixed) {
		const left = prints(log, after, path);
		if (left.includes(fingerprint(result)))
			say(`${from}: ${result.message.text}: the fix does not mend it`);
		if (left.length >= prints(run, before, from).length)
			say(`${from}: ${result.message.text}: the fix brings others`);
	}
	for (const rule of ["closed-path", "duplicate-outline", "mirrored-art"]) {
		if (!fixed.some(({ result }) => result.ruleId === rule))
			say(`no fix for ${rule}`);
	}
	return fixed.length;
}

// Findings as the text has them: "[rule]" ends their first line.
function checkAgainstText(run, files, folder) {
	const text = check(files, folder, "text").text;
	const lines = text.split("\n").filter((line) => / \[[a-z-]+\]$/.test(line));
	const said = run.results.filter((result) => !result.suppressions.length).length;
	if (said !== lines.length)
		say(`${said} results that are not suppressed, ${lines.length} findings in the text`);
}

const cases = writeCases(corpus, join(folder, "cases"));
const files = cases.map(({ path }) => path);
const validate = makeValidator();
const { text, status } = check(files, join(folder, "cases"), "sarif");
const log = JSON.parse(text);
const [run] = log.runs;
if (!validate(log))
	validate.errors.slice(0, 20).forEach((error) => say(`${error.instancePath}: ${error.message}`));
if (run.invocations[0].exitCode !== status)
	say(`exit status ${status}, said to be ${run.invocations[0].exitCode}`);
const regions = new Regions(run, join(folder, "cases"));
for (const result of run.results) {
	checkRule(run, result);
	placesOf(result).forEach((location) => checkLocation(run, regions, location));
}
if (contexts < run.results.length / 2)
	say(`only ${contexts} of ${run.results.length} results have a contextRegion`);
const compared = checkForms(run, cases);
checkAgainstText(run, files, join(folder, "cases"));
const fixes = checkFixes(run, join(folder, "cases"));
if (check(files, join(folder, "cases"), "sarif").text !== text)
	say("two runs give different logs");
if (run.results.length < 200 || compared < 200 || !run.results.some((r) => r.suppressions.length))
	say("the corpus has become too small to show anything");

console.log(`${files.length} files, ${run.results.length} results, ${fixes} fixes`);
faults.slice(0, 40).forEach((fault) => console.log(fault));
process.exit(faults.length ? 1 : 0);
