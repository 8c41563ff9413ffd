// Makes of dist/ what the program carries: one assembler file that takes the bytes in, and one table that
// tells for each address its type, its ETag, and the plain, gzip and brotli bytes.
//
//   node embed/embed.mjs DIST OUT
import { createHash } from "node:crypto";
import { mkdirSync, readdirSync, readFileSync, statSync, writeFileSync } from "node:fs";
import { extname, join, relative, resolve } from "node:path";
import { brotliCompressSync, constants, gzipSync } from "node:zlib";

const types = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".svg": "image/svg+xml",
  ".woff2": "font/woff2",
};
const [dist, out] = process.argv.slice(2).map((path) => resolve(path));
if (!out) {
  console.error("embed: node embed/embed.mjs DIST OUT");
  process.exit(2);
}

const filesIn = (folder) =>
  readdirSync(folder)
    .sort()
    .flatMap((name) => {
      const path = join(folder, name);
      return statSync(path).isDirectory() ? filesIn(path) : [path];
    });

const pages = filesIn(dist).map((path) => ({ path, address: "/" + relative(dist, path).replaceAll("\\", "/") }));

mkdirSync(out, { recursive: true });
const data = [".section .note.GNU-stack,\"\",@progbits", ".section .rodata"];
const names = [];
const rows = pages.map(({ path, address }, i) => {
  const plain = readFileSync(path);
  const type = types[extname(path)];
  if (!type) throw new Error(`embed: no type is known for ${path}`);
  const packed = { plain, gzip: gzipSync(plain, { level: 9 }), br: brotli(plain) };
  const worth = packed.br.length < plain.length * 0.95;
  const parts = Object.entries(packed).map(([kind, bytes]) => {
    if (!bytes.length || (kind !== "plain" && !worth)) return "{}";
    const file = join(out, `${i}.${kind}`);
    writeFileSync(file, bytes);
    const name = `kw_asset_${i}_${kind}`;
    names.push(name);
    data.push(`.global ${name}`, ".balign 16", `${name}:`, `.incbin "${file}"`);
    return `{${name}, ${bytes.length}}`;
  });
  const etag = createHash("sha256").update(plain).digest("hex").slice(0, 32);
  const url = address === "/index.html" ? "/" : address;
  return `    Asset{"${url}", "${type}", "\\"${etag}\\"", ${parts.join(", ")}, ${url.startsWith("/assets/")}},`;
});

function brotli(bytes) {
  return brotliCompressSync(bytes, { params: { [constants.BROTLI_PARAM_QUALITY]: 11 } });
}

writeFileSync(join(out, "assets.S"), data.join("\n") + "\n");
writeFileSync(
  join(out, "assets.cpp"),
  `// Made by web/embed/embed.mjs.
#include <algorithm>
#include <array>

#include "message.h"

extern "C" {
${names.map((name) => `extern const char ${name}[];`).join("\n")}
}

namespace kw::serving {

const Asset* find_asset(std::string_view path) {
  static const std::array all = {
${rows.join("\n")}
  };
  const auto found = std::find_if(all.begin(), all.end(), [&](const Asset& one) { return one.path == path; });
  return found == all.end() ? nullptr : &*found;
}

}  // namespace kw::serving
`,
);
