import { defineConfig } from "vitest/config";

export default defineConfig({
  root: new URL("..", import.meta.url).pathname,
  test: {
    dir: "test",
    globalSetup: "test/setup.ts",
    // one worker's modules serve all its files: loading them takes longer than most tests
    isolate: false,
    // the browser tests wait for the browser most of the time
    maxWorkers: "150%",
    testTimeout: 60_000,
    hookTimeout: 60_000,
  },
});
