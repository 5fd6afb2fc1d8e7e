// Makes the edits that a log offers, each fix by itself, and looks again: SARIF 2.1.0, 3.55 to 3.57.
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";

// 3.57.1: regions count in the file as it was; so the last comes first.
function edited(text, replacements) {
	const characters = [...text];
	const inOrder = [...replacements].sort((a, b) => b.deletedRegion.charOffset - a.deletedRegion.charOffset);
	for (const { deletedRegion, insertedContent } of inOrder)
		characters.splice(deletedRegion.charOffset, deletedRegion.charLength,
			...(insertedContent?.text ?? ""));
	return characters.join("");
}

function write(folder, path, number, text) {
	const name = `fixed ${number}`;
	mkdirSync(join(folder, name));
	writeFileSync(join(folder, name, "drawing.svg"), text);
	const job = join(folder, dirname(path), "cutlint.job");
	if (existsSync(job))
		copyFileSync(job, join(folder, name, "cutlint.job"));
	return `${name}/drawing.svg`;
}

// Returns { result, path } for each fix, with the path of the mended drawing.
export function writeFixed(run, folder) {
	const fixed = [];
	for (const result of run.results) {
		for (const { artifactChanges: [{ artifactLocation, replacements }] } of result.fixes ?? []) {
			const from = decodeURIComponent(run.artifacts[artifactLocation.index].location.uri);
			const text = readFileSync(join(folder, from), "utf8").replace(/^\ufeff/, "");
			const path = write(folder, from, fixed.length, edited(text, replacements));
			fixed.push({ result, path, from });
		}
	}
	return fixed;
}
