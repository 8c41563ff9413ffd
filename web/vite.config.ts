import { svelte } from "@sveltejs/vite-plugin-svelte";
import { defineConfig, type ProxyOptions } from "vite";

// The engine that `npm run dev` and `npm run preview` talk to: kerfwright serve.
const engine = process.env["KERFWRIGHT"] ?? "http://127.0.0.1:7345";
const proxy: Record<string, ProxyOptions> = {
  "/api": { target: engine, changeOrigin: true, headers: { origin: engine } },
};

export default defineConfig({
  plugins: [svelte()],
  build: {
    target: "es2022",
    assetsInlineLimit: 0, // the page's content policy allows no data: URLs for fonts
    chunkSizeWarningLimit: 700, // three is one chunk, loaded with the first piece
    modulePreload: { polyfill: false },
  },
  server: { proxy },
  preview: { proxy },
});
