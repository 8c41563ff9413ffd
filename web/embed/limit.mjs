// What a browser loads before the first piece is drawn, compressed, must stay under the limit.
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { brotliCompressSync } from "node:zlib";

const limit = 350 * 1024;
const html = readFileSync("dist/index.html", "utf8");
const named = [...html.matchAll(/(?:src|href)="(\/[^"]+)"/g)].map((match) => match[1]);
const fonts = named
  .filter((name) => name.endsWith(".css"))
  .flatMap((name) => [...readFileSync(join("dist", name), "utf8").matchAll(/url\((\/[^)]+)\)/g)].map((match) => match[1]));
let sum = 0;
for (const name of ["/index.html", ...named, ...fonts]) {
  const bytes = readFileSync(join("dist", name));
  sum += name.endsWith(".woff2") ? bytes.length : brotliCompressSync(bytes).length;
}
console.log(`first load: ${(sum / 1024).toFixed(0)} KB of at most ${limit / 1024} KB`);
if (sum > limit) process.exit(1);
