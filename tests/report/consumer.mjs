// Has a reader of SARIF logs validate the log of the whole corpus, by its own rules and those of a
// service that takes such logs. Usage: node consumer.mjs CUTLINT CORPUS FOLDER. Exit status 77: the
// package is missing, or is for another machine.
import { spawnSync } from "node:child_process";
import { chmodSync, existsSync, readFileSync } from "node:fs";
import { dirname, join, resolve } from "node:path";
import { fileURLToPath } from "node:url";
import { install, skip } from "../npm.mjs";
import { writeCases } from "./cases.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const [cutlint, corpus, folder] = process.argv.slice(2).map((path) => resolve(path));

// What it says and is right to say.
const KNOWN = {
	SARIF2005: "cutlint has no home page that informationUri could name",
};

install(join(here, "consumer"), folder);
const program = join(folder, "node_modules/@microsoft/sarif-multitool-linux/Sarif.Multitool");
if (process.platform !== "linux" || process.arch !== "x64" || !existsSync(program))
	skip("the validator is for Linux on x86-64");
chmodSync(program, 0o755);

const cases = join(folder, "cases");
const files = writeCases(corpus, cases).map(({ path }) => path);
const log = join(folder, "corpus.sarif");
spawnSync(cutlint, ["check", "-q", "--format", "sarif", "--output", log, "--", ...files], { cwd: cases });
const answer = join(folder, "answer.sarif");
const ran = spawnSync(program, ["validate", log, "--rule-kind", "Sarif;Ghas", "--output", answer,
	"--log", "ForceOverwrite"], {
	encoding: "utf8",
	env: { ...process.env, DOTNET_SYSTEM_GLOBALIZATION_INVARIANT: "1", DOTNET_BUNDLE_EXTRACT_BASE_DIR: folder },
});
if (ran.error || !existsSync(answer))
	skip(`the validator does not run here: ${ran.error ?? ran.stderr}`);

const text = readFileSync(answer, "utf8").replace(/^\ufeff/, "");
const [run] = JSON.parse(text).runs;
const faults = run.results.filter(({ ruleId }) => !KNOWN[ruleId]);
console.log(`${files.length} files; ${run.results.length} results of the validator`);
faults.slice(0, 20).forEach(({ ruleId, message, locations }) =>
	console.log(ruleId, message.id, message.arguments?.join(" "), locations?.[0]?.logicalLocations?.[0]?.fullyQualifiedName));
const ended = ran.status === 0 && run.invocations[0].executionSuccessful;
process.exit(ended && !faults.length ? 0 : 1);
