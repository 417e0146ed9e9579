import { defineConfig } from "vitest/config";

export default defineConfig({
  test: {
    include: ["tests/**/*.test.ts"],
    exclude: ["tests/host/**", "**/node_modules/**"],
    testTimeout: 30_000,
    // Two cores; more workers only get in each other's way.
    maxWorkers: 2,
  },
});
