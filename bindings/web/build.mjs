// SPDX-License-Identifier: BSD-3-Clause
// Bundles src/ into one HTML page and writes it as a C++ source.
//   node build.mjs [--packages DIR with node_modules] [--out DIR]
import {readFileSync, writeFileSync, mkdirSync, existsSync, readdirSync} from "node:fs";
import {dirname, join, relative, resolve, sep} from "node:path";
import {createRequire} from "node:module";
import {fileURLToPath} from "node:url";

const here = dirname(fileURLToPath(import.meta.url));
const option = (name, fallback) => {
  const at = process.argv.indexOf(name);
  return at > 0 ? resolve(process.argv[at + 1]) : fallback;
};
const packages = option("--packages", here);
const out = option("--out", join(here, "dist"));
const modules = join(packages, "node_modules");
const {build} = createRequire(join(packages, "package.json"))("esbuild");

const result = await build({
  entryPoints: [join(here, "src", "main.ts")],
  bundle: true,
  minify: true,
  write: false,
  metafile: true,
  format: "iife",
  target: ["es2020"],
  charset: "utf8",
  legalComments: "none",
  nodePaths: [modules],
  absWorkingDir: here,
  logLevel: "warning",
});

/** Packages of which code is in the bundle, with their licence texts. */
function bundledPackages() {
  const folders = new Set();
  for (const [file, input] of Object.entries(result.metafile.outputs[Object.keys(result.metafile.outputs)[0]].inputs)) {
    const path = resolve(here, file);
    const inside = path.lastIndexOf(sep + "node_modules" + sep);
    if (input.bytesInOutput === 0 || inside < 0) continue;
    const root = path.slice(0, inside + sep.length + "node_modules".length);
    const parts = relative(root, path).split(sep);
    folders.add(join(root, parts[0].startsWith("@") ? join(parts[0], parts[1]) : parts[0]));
  }
  if (folders.size === 0) throw new Error("no bundled package was found: the notices would be empty");
  return [...folders].sort().map((folder) => {
    const about = JSON.parse(readFileSync(join(folder, "package.json"), "utf8"));
    const licence = readdirSync(folder).find((f) => /^licen[cs]e(\.|$)/i.test(f));
    if (!licence) throw new Error(`${about.name} ${about.version} has no licence file: its notice cannot be kept`);
    return {
      name: about.name,
      version: about.version,
      licence: about.license,
      text: readFileSync(join(folder, licence), "utf8").trim(),
    };
  });
}

/** Equal texts once, with the packages they belong to. */
function notices() {
  const texts = new Map();
  for (const p of bundledPackages()) {
    const names = texts.get(p.text) ?? [];
    names.push(`${p.name} ${p.version} (${p.licence})`);
    texts.set(p.text, names);
  }
  return [...texts].map(([text, names]) => `${names.join(", ")}\n\n${text}`).join("\n\n----------\n\n");
}

const escapeHtml = (text) => text.replaceAll("&", "&amp;").replaceAll("<", "&lt;").replaceAll(">", "&gt;");
// A bundle that holds "</script" would end its own element.
const script = result.outputFiles[0].text.replaceAll("</script", "<\\/script").replaceAll("<!--", "<\\!--");
// In this order: later rules win.
const sheets = ["page", "first_sheet", "load", "wraps", "pictures", "cards"];
const style = sheets.map((name) => readFileSync(join(here, "src", `${name}.css`), "utf8")).join("\n");
let page = readFileSync(join(here, "src", "page.html"), "utf8");
for (const [mark, text] of [
  ["/*STYLE*/", style],
  ["<!--NOTICES-->", escapeHtml(notices())],
  ["/*SCRIPT*/", script],
]) {
  if (page.split(mark).length !== 2) throw new Error(`page.html must hold ${mark} once`);
  page = page.split(mark).join(text);
}
for (const mark of ["@UNITS@", "@TITLE@", "@TABLES@", "@DATA@"])
  if (page.split(mark).length !== 2) throw new Error(`the page must hold ${mark} once`);

/** A C++ string literal; pieces, because compilers limit the length of one. */
function literals(text) {
  const bytes = Buffer.from(text, "utf8");
  const lines = [];
  for (let from = 0; from < bytes.length; from += 8000) {
    let line = "";
    for (const byte of bytes.subarray(from, from + 8000)) {
      if (byte === 0x22 || byte === 0x5c) line += "\\" + String.fromCharCode(byte);
      else if (byte === 0x0a) line += "\\n";
      else if (byte === 0x3f || byte < 0x20 || byte > 0x7e) line += "\\" + byte.toString(8).padStart(3, "0");
      else line += String.fromCharCode(byte);
    }
    lines.push(`    "${line}"sv,`); // with its length, which a compiler does not count again letter by letter
  }
  return lines.join("\n");
}

mkdirSync(out, {recursive: true});
if (!existsSync(out)) throw new Error(`cannot make ${out}`);
writeFileSync(join(out, "report_page.html"), page);
writeFileSync(
  join(out, "report_page.cpp"),
  `// SPDX-License-Identifier: BSD-3-Clause
// Generated from bindings/web.
#include "sim/io/text/report_page.hpp"

namespace hoopfield {

const std::string& report_page() {
  using namespace std::string_view_literals;
  static constexpr std::string_view parts[] = {
${literals(page)}
  };
  static const std::string page = [] {
    std::string text;
    for (const std::string_view part : parts) text += part;
    return text;
  }();
  return page;
}

std::string_view report_page_absence() { return {}; }

}  // namespace hoopfield
`,
);
console.log(`report page: ${Math.round(page.length / 1024)} kB`);
