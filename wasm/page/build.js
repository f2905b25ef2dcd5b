// Puts the page together in target/page: static files that work from any web server and any folder.
// Nothing is bundled: what stands in src/ is what the browser runs.

import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, readFileSync, readdirSync, rmSync, writeFileSync } from "node:fs";
import { execFileSync } from "node:child_process";
import { extname, join, posix } from "node:path";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = join(here, "../..");
const engine = join(root, "target/npm/apiary-almanac");
const zones = join(here, "node_modules/@photostructure/tz-lookup");

/** All files below a folder, with slashes, in a fixed order. */
function list(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(folder.length + 1).replaceAll("\\", "/"))
    .sort();
}

/** Builds the page and gives back the folder it stands in. */
export function build(out = join(root, "target/page")) {
  if (!existsSync(join(engine, "index.js"))) {
    throw new Error("target/npm/apiary-almanac is not there; run wasm/build first");
  }
  if (!existsSync(zones)) {
    execFileSync("npm", ["ci", "--omit=dev", "--no-audit", "--no-fund"], { cwd: here, stdio: "inherit", shell: process.platform === "win32" });
  }
  rmSync(out, { recursive: true, force: true });
  mkdirSync(join(out, "apiary-almanac"), { recursive: true });
  cpSync(join(here, "src"), out, { recursive: true });
  for (const name of list(engine)) {
    if ([".js", ".wasm", ".bin"].includes(extname(name)) || name.startsWith("LICENSE")) {
      cpSync(join(engine, name), join(out, "apiary-almanac", name));
    }
  }
  // The library is a plain script; one line makes a module of it.
  const lookup = readFileSync(join(zones, "tz.js"), "utf8");
  writeFileSync(join(out, "zone-lookup.js"), `${lookup}\nexport default tzlookup;\n`);
  cpSync(join(zones, "LICENSE"), join(out, "zone-lookup.LICENSE"));

  const files = list(out).filter((name) => name !== "sw.js" && !name.includes("LICENSE"));
  // What is needed for the first view: without a place that is where one is entered.
  const first = modules(out, ["main.js", "views/dawn.js", "views/place.js"]);
  const preloads = first.map((name) => `<link rel="modulepreload" href="./${name}">`);
  // The engine starts beside the page's own modules, as soon as it is there: it takes longest.
  preloads.unshift(
    '<link rel="preload" href="./apiary-almanac/engine_bg.wasm" as="fetch" type="application/wasm" crossorigin>',
    '<script type="module" src="./apiary-almanac/auto.js" async></script>',
  );
  replace(join(out, "index.html"), "<!-- modules -->", preloads.join("\n"));

  const hash = createHash("sha256");
  for (const name of files) hash.update(name).update("\0").update(readFileSync(join(out, name)));
  const worker = readFileSync(join(out, "sw.js"));
  const version = hash.update(worker).digest("hex").slice(0, 16);
  replace(join(out, "sw.js"), '"__VERSION__"', JSON.stringify(version));
  replace(join(out, "sw.js"), '["__FILES__"]', JSON.stringify(["./", ...files.map((name) => `./${name}`)], null, 2));
  return out;
}

/** Modules and all those that they import at once, without those that they fetch later. */
function modules(folder, names, found = new Set()) {
  for (const name of names) {
    if (found.has(name)) continue;
    found.add(name);
    const imports = readFileSync(join(folder, name), "utf8").matchAll(/^(?:import|export) .*?"(\.[^"]+)";$/gm);
    modules(folder, [...imports].map(([, path]) => posix.join(posix.dirname(name), path)), found);
  }
  return [...found];
}

function replace(file, mark, text) {
  const before = readFileSync(file, "utf8");
  if (!before.includes(mark)) throw new Error(`${file} has no ${mark}`);
  writeFileSync(file, before.replace(mark, () => text));
}

if (process.argv[1] === fileURLToPath(import.meta.url)) console.log(build());
