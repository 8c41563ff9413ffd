import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig } from "vite";

// The engine that `npm run dev` talks to; `kerfwright serve` listens there.
const engine = process.env["KERFWRIGHT"] ?? "http://127.0.0.1:7420";

export default defineConfig({
  plugins: [svelte()],
  build: {
    target: "es2022",
    assetsInlineLimit: 0, // the page's content policy allows no data: URLs for fonts
    chunkSizeWarningLimit: 700, // three is one chunk, loaded with the first piece
    modulePreload: { polyfill: false },
  },
  server: { proxy: { "/api": { target: engine, changeOrigin: true } } },
});
