import { mergeConfig, defineConfig } from "vitest/config";
import base from "./vitest.config.js";
export default mergeConfig(base, defineConfig({ test: { setupFiles: ["test/zz-setup.ts"], execArgv: [] } }));
