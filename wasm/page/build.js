// Puts the page together in target/page: static files that work from any web server and any folder.
//
// What stands in src/ runs in a browser as it is; `--source` leaves it so. Otherwise its modules are joined into
// a few files, named by their content, and the service worker gets the list of all files with their hashes.

import { createHash } from "node:crypto";
import { cpSync, existsSync, mkdirSync, mkdtempSync, readFileSync, readdirSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { execFileSync } from "node:child_process";
import { basename, extname, join } from "node:path";
import { fileURLToPath } from "node:url";

const here = fileURLToPath(new URL(".", import.meta.url));
const root = join(here, "../..");
const engine = join(root, "target/npm/apiary-almanac");
const zones = join(here, "node_modules/@photostructure/tz-lookup");
const lit = join(here, "node_modules/lit-html");
const qr = join(here, "node_modules/lean-qr");
/** What the page imports of it, and what that imports. */
const litFiles = ["lit-html.js", "directive.js", "directive-helpers.js", "directives/repeat.js", "LICENSE"];

/** All files below a folder, with slashes, in a fixed order. */
function list(folder) {
  return readdirSync(folder, { recursive: true, withFileTypes: true })
    .filter((entry) => entry.isFile())
    .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(folder.length + 1).replaceAll("\\", "/"))
    .sort();
}

/** Builds the page and gives back the folder it stands in. */
export async function build(out = join(root, "target/page"), { source = false } = {}) {
  if (!existsSync(join(engine, "index.js"))) {
    throw new Error("target/npm/apiary-almanac is not there; run wasm/build first");
  }
  if (!existsSync(zones) || !existsSync(lit) || !existsSync(qr) || !existsSync(join(here, "node_modules/esbuild"))) {
    execFileSync("npm", ["ci", "--omit=dev", "--no-audit", "--no-fund"], { cwd: here, stdio: "inherit", shell: process.platform === "win32" });
  }
  rmSync(out, { recursive: true, force: true });
  if (source) {
    gather(out);
    return out;
  }
  mkdirSync(join(root, "target"), { recursive: true });
  const scratch = mkdtempSync(join(root, "target/page-source-"));
  try {
    gather(scratch);
    await joinUp(scratch, out);
  } finally {
    rmSync(scratch, { recursive: true, force: true });
  }
  return out;
}

/** The sources with what they import: a page that works as it stands, without a service worker. */
function gather(out) {
  mkdirSync(join(out, "apiary-almanac"), { recursive: true });
  cpSync(join(here, "src"), out, { recursive: true });
  rmSync(join(out, "sw.js"));
  for (const name of list(engine)) {
    const wanted = [".js", ".wasm"].includes(extname(name)) && name !== "packed.js";
    if (wanted || name.startsWith("LICENSE")) cpSync(join(engine, name), join(out, "apiary-almanac", name));
  }
  cpSync(join(engine, "towns.txt"), join(out, "towns.txt"));
  // The library is a plain script; one line makes a module of it.
  const lookup = readFileSync(join(zones, "tz.js"), "utf8");
  writeFileSync(join(out, "zone-lookup.js"), `${lookup}\nexport default tzlookup;\n`);
  cpSync(join(zones, "LICENSE"), join(out, "zone-lookup.LICENSE"));
  cpSync(join(qr, "nano.mjs"), join(out, "qr.js"));
  cpSync(join(qr, "LICENSE"), join(out, "qr.LICENSE"));
  for (const file of litFiles) cpSync(join(lit, file), join(out, "lit-html", file));
}

/** Joins the gathered files. */
async function joinUp(from, out) {
  const esbuild = await import("esbuild");
  const { metafile } = await esbuild.build({
    absWorkingDir: from,
    entryPoints: ["main.js", "first.js", "style/page.css"],
    outdir: out,
    entryNames: "[name]-[hash]",
    chunkNames: "[name]-[hash]",
    bundle: true,
    splitting: true,
    format: "esm",
    target: "es2022",
    minify: true,
    legalComments: "none",
    // The library of zones asks whether it is one of Node's modules.
    define: { module: "undefined" },
    metafile: true,
    logLevel: "error",
  });
  const outputs = Object.entries(metafile.outputs).map(([path, output]) => [basename(path), output]);
  const [main, first, style] = ["main.js", "first.js", "style/page.css"].map((entry) => outputs.find(([, { entryPoint }]) => entryPoint === entry)[0]);
  // What the first module imports at once comes beside it, not after it.
  const beside = outputs.find(([name]) => name === main)[1].imports.filter(({ kind }) => kind === "import-statement").map(({ path }) => basename(path));

  cpSync(join(from, "icons"), join(out, "icons"), { recursive: true });
  cpSync(join(from, "manifest.webmanifest"), join(out, "manifest.webmanifest"));
  mkdirSync(join(out, "licences"));
  cpSync(join(from, "zone-lookup.LICENSE"), join(out, "licences/zone-lookup"));
  cpSync(join(from, "qr.LICENSE"), join(out, "licences/lean-qr"));
  cpSync(join(from, "lit-html/LICENSE"), join(out, "licences/lit-html"));
  for (const name of ["LICENSE-MIT", "LICENSE-APACHE"]) cpSync(join(from, "apiary-almanac", name), join(out, "licences", name));
  const bytes = readFileSync(join(from, "apiary-almanac/engine_bg.wasm"));
  const wasm = `engine-${hash(bytes).slice(0, 8).toUpperCase()}.wasm`;
  renameSync(join(from, "apiary-almanac/engine_bg.wasm"), join(out, wasm));

  let index = readFileSync(join(from, "index.html"), "utf8");
  for (const [before, after] of [
    ["./apiary-almanac/engine_bg.wasm", `./${wasm}`],
    ['data-engine-bytes="0"', `data-engine-bytes="${bytes.length}"`],
    ["./first.js", `./${first}`],
    ["./style/page.css", `./${style}`],
    ["./main.js", `./${main}`],
    ["<!-- modules -->", beside.map((name) => `<link rel="modulepreload" href="./${name}">`).join("\n")],
  ]) {
    index = replaced(index, before, after);
  }
  writeFileSync(join(out, "index.html"), index);

  const files = Object.fromEntries(
    list(out)
      .filter((name) => !name.startsWith("licences/"))
      .map((name) => [name === "index.html" ? "./" : `./${name}`, hash(readFileSync(join(out, name)))]),
  );
  // Not kept until it is asked for.
  cpSync(join(from, "towns.txt"), join(out, "towns.txt"));
  const worker = readFileSync(join(here, "src/sw.js"), "utf8");
  const version = hash(JSON.stringify(files) + worker).slice(0, 16);
  writeFileSync(join(out, "sw.js"), replaced(replaced(worker, '"__VERSION__"', JSON.stringify(version)), '{ "__FILES__": "" }', JSON.stringify(files, null, 2)));
}

const hash = (content) => createHash("sha256").update(content).digest("hex");

function replaced(text, mark, by) {
  if (text.split(mark).length !== 2) throw new Error(`${mark} stands there ${text.split(mark).length - 1} times; wanted is once`);
  return text.replace(mark, () => by);
}

if (process.argv[1] === fileURLToPath(import.meta.url)) console.log(await build(undefined, { source: process.argv.includes("--source") }));
