// The drawings of the corpus, each in a folder of its own with its job, and the same in other forms.
import { mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { gzipSync } from "node:zlib";

const BOM = "\ufeff";
const DECLARATION = /^<\?xml[^>]*\?>\s*/;
const TAG = /<([a-zA-Z][\w:.-]*)((?:\s+[\w:.-]+\s*=\s*(?:"[^"<]*"|'[^'<]*'))+)(\s*\/?>)/g;
const ATTRIBUTE = /\s+[\w:.-]+\s*=\s*(?:"[^"<]*"|'[^'<]*')/g;

const plain = (text) => text.replace(DECLARATION, "");

// What changes where things stand and not what is drawn: a name, the file's end, and its bytes.
export const FORMS = [
	["moved", ".svg", (text) => `<!-- more\nlines\nabove -->\n\n${plain(text)}`],
	["indented", ".svg", (text) => text.replaceAll("\n", "\n\t    ")],
	["one line", ".svg", (text) => text.replaceAll("\n", " ")],
	["turned", ".svg", (text) => text.replace(TAG, (_, tag, attributes, end) =>
		`<${tag}${attributes.match(ATTRIBUTE).reverse().join("")}${end}`)],
	["crlf", ".svg", (text) => text.replaceAll("\n", "\r\n")],
	["cr", ".svg", (text) => text.replaceAll("\n", "\r")],
	["bom", ".svg", (text) => BOM + text],
	["utf-16", ".svg", (text) => Buffer.from(BOM + plain(text), "utf16le")],
	["latin-1", ".svg", (text) => Buffer.from(
		`<?xml version="1.0" encoding="ISO-8859-1"?>\n${plain(text)}`, "latin1")],
	["packed", ".svgz", (text) => gzipSync(text)],
];

function write(folder, name, bytes, job) {
	mkdirSync(folder, { recursive: true });
	writeFileSync(join(folder, name), bytes);
	if (job)
		writeFileSync(join(folder, "cutlint.job"), job);
}

// Returns the paths of all, relative to the folder: { path, form, like } with `like` the plain one.
export function writeCases(corpus, folder) {
	const cases = [];
	rmSync(folder, { recursive: true, force: true });
	mkdirSync(join(folder, ".git"), { recursive: true });
	const add = (name, file, bytes, job, form, like) => {
		const path = `${name}/${file}`;
		write(join(folder, name), file, bytes, job);
		cases.push({ path, form, like: like ?? path });
		return path;
	};
	const files = readdirSync(corpus, { recursive: true }).filter((name) => name.endsWith(".svg"));
	files.sort().forEach((file, number) => {
		const text = readFileSync(join(corpus, file), "utf8");
		const job = /<!-- job\n([\s\S]*?)-->/.exec(text)?.[1];
		const name = file.replaceAll("/", " ").slice(0, -4);
		const like = add(name, "drawing.svg", text, job, "plain");
		const [form, end, change] = FORMS[number % FORMS.length];
		const narrow = [...text].every((c) => c.codePointAt(0) < 256);
		if (form !== "latin-1" || narrow)
			add(`${name}, ${form}`, `drawing${end}`, change(text), job, form, like);
	});
	return cases;
}
