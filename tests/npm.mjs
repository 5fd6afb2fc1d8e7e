// What tests need that run npm packages: they come into the build folder, without their scripts.
import { spawnSync } from "node:child_process";
import { copyFileSync, existsSync, mkdirSync, readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";

// Ends a test that can't run here.
export function skip(why) {
	console.log(`skipped: ${why}`);
	process.exit(77);
}

// Installs what the package-lock.json in `from` names into `folder`, once for each state of it.
export function install(from, folder) {
	mkdirSync(folder, { recursive: true });
	for (const name of ["package.json", "package-lock.json"])
		copyFileSync(join(from, name), join(folder, name));
	const done = join(folder, "installed");
	const lock = readFileSync(join(from, "package-lock.json"), "utf8");
	if (existsSync(done) && readFileSync(done, "utf8") === lock)
		return;
	const npm = spawnSync("npm", ["ci", "--ignore-scripts", "--no-audit", "--no-fund"], {
		cwd: folder,
		encoding: "utf8",
	});
	if (npm.error)
		skip("npm is not installed");
	if (npm.status !== 0)
		skip(`the packages can't be installed: ${npm.stderr.split("\n")[0]}`);
	writeFileSync(done, lock);
}
