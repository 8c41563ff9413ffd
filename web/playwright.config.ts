import { defineConfig, devices } from "@playwright/test";

const chromium = {
  launchOptions: {
    executablePath: process.env["CHROMIUM"] ?? "/usr/bin/chromium",
    args: [
      "--no-sandbox",
      "--use-gl=angle",
      "--use-angle=swiftshader",
      "--enable-unsafe-swiftshader",
      "--disable-quic",
      "--no-first-run",
      "--disable-background-networking",
      "--disable-component-update",
      "--disable-sync",
    ],
  },
};

export default defineConfig({
  testDir: "tests/browser",
  timeout: 60_000,
  workers: 1,
  forbidOnly: true,
  reporter: [["list"]],
  use: { ...chromium, baseURL: "http://127.0.0.1:4173", trace: "retain-on-failure" },
  projects: [
    { name: "desktop", use: { viewport: { width: 1440, height: 900 } } },
    { name: "phone", use: { ...devices["Pixel 7"], viewport: { width: 390, height: 844 } } },
  ],
  webServer: { command: "npx vite preview --port 4173 --strictPort", url: "http://127.0.0.1:4173", reuseExistingServer: true },
});
