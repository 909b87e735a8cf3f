import { defineConfig } from "vite";

export default defineConfig({
  root: "web",
  oxc: { jsx: { runtime: "automatic", importSource: "preact" } },
  build: { outDir: "../dist/web", emptyOutDir: true, target: "es2022" },
});
