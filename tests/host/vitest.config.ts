import { defineConfig } from "vitest/config";

/**
 * The host tests have a configuration of their own because they need what `setup.sh` installs, and because a
 * real editor on a busy two-core machine wants far more patience than a unit test.
 */
export default defineConfig({
  test: {
    root: import.meta.dirname,
    include: ["*.test.ts"],
    globalSetup: ["./preconditions.ts"],
    fileParallelism: false,
    testTimeout: 150_000,
    hookTimeout: 180_000,
  },
});
