// Whether a region says one stretch of its file in all its ways: SARIF 2.1.0, 3.30.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { gunzipSync } from "node:zlib";

function bytesOf(run, folder, index) {
	const artifact = run.artifacts[index];
	if (artifact.parentIndex !== undefined)
		return gunzipSync(bytesOf(run, folder, artifact.parentIndex));
	return readFileSync(join(folder, decodeURIComponent(artifact.location.uri)));
}

// 3.30.2: no value depends on a byte order mark. 3.14.17: what ends a line.
function textOf(run, bytes, encoding) {
	const decoded = new TextDecoder(encoding, { fatal: true }).decode(bytes);
	const characters = [...decoded];
	const starts = [0];
	for (let i = 0; i < characters.length; i++) {
		const crlf = characters[i] === "\r" && characters[i + 1] === "\n";
		if (!crlf && run.newlineSequences.includes(characters[i]))
			starts.push(i + 1);
	}
	return { characters, starts };
}

export class Regions {
	constructor(run, folder) {
		Object.assign(this, { run, folder, files: new Map() });
	}

	file(index) {
		if (!this.files.has(index)) {
			const artifact = this.run.artifacts[index];
			const bytes = bytesOf(this.run, this.folder, index);
			const own = artifact.encoding === "UTF-8" && artifact.parentIndex === undefined;
			this.files.set(index, { bytes, own, ...textOf(this.run, bytes, artifact.encoding) });
		}
		return this.files.get(index);
	}

	// What is wrong with it, or null.
	fault(index, region) {
		const { bytes, own, characters, starts } = this.file(index);
		const from = starts[region.startLine - 1] + region.startColumn - 1;
		const to = starts[region.endLine - 1] + region.endColumn - 1;
		if (!(from <= to && to <= characters.length))
			return "its lines and columns are not in the file";
		if (from !== region.charOffset || to !== from + region.charLength)
			return `lines say ${from} to ${to}, characters ${region.charOffset}, ${region.charLength}`;
		const text = characters.slice(from, to).join("");
		if (region.snippet && region.snippet.text !== text)
			return `snippet ${region.snippet.text}, not ${text}`;
		if (own !== (region.byteOffset !== undefined))
			return "bytes where the text is not the file's own, or none where it is";
		const end = region.byteOffset + region.byteLength;
		if (own && bytes.subarray(region.byteOffset, end).toString("utf8") !== text)
			return `bytes ${region.byteOffset}, ${region.byteLength} are not ${text}`;
		return null;
	}
}
