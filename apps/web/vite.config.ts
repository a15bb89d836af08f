import react from "@vitejs/plugin-react";
import { defineConfig } from "vite";

/**
 * The built page runs under `script-src 'self'; style-src 'self'`: nothing is inlined, neither scripts,
 * styles nor small images.
 */
export default defineConfig({
  plugins: [react()],
  build: {
    outDir: "dist",
    emptyOutDir: true,
    assetsInlineLimit: 0,
    modulePreload: { polyfill: false },
  },
  server: { port: 5173, proxy: { "/api": { target: "http://127.0.0.1:8080" } } },
});
