import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { basename, dirname, join } from "node:path";
import type { Source } from "../../sim/scenario/source.js";
import { EMBEDDED_ID, type Embedded } from "./embedded.js";
import { html, trusted, type Html } from "./html.js";

/** What makes a page alive: its script, and what the script is to know. */
export interface Live {
  readonly script: string;
  /** Licences of what the script is made of. */
  readonly notices: string;
  readonly embedded: Embedded;
}

/** The script and its licences, as `npm run build` made them. */
export async function liveScript(): Promise<Pick<Live, "script" | "notices">> {
  const root = dirname(createRequire(import.meta.url).resolve("lampdrift/package.json"));
  const read = (file: string): Promise<string> => readFile(join(root, "dist/reports/live", file), "utf8");
  return { script: await read("bundle.js"), notices: await read("notices.txt") };
}

/** A scenario's texts for the page, by the names of their files alone: where they lie is nobody's business. */
export function filesOf(source: Source): Embedded["files"] {
  return source.files.map(({ file, text }) => ({ file: basename(file), text }));
}

/** Forbids the page everything but its own style, the pictures in it, workers made in it, and the one script. */
export function policyOf(live: Live | null): Html {
  const script = live === null ? "'none'" : `'sha256-${createHash("sha256").update(live.script).digest("base64")}'`;
  const rules = [
    "default-src 'none'",
    `script-src ${script}`,
    "style-src 'unsafe-inline'",
    "img-src data:",
    `worker-src ${live === null ? "'none'" : "blob:"}`,
    "base-uri 'none'",
    "form-action 'none'",
  ];
  return html`<meta http-equiv="Content-Security-Policy" content="${rules.join("; ")}">`;
}

/** Licences, the data block and the script, for the end of the page. */
export function scripts({ script, notices, embedded }: Live): Html {
  // "<" could end the block: in JSON it may be written like this
  const data = JSON.stringify(embedded).replaceAll("<", "\\u003c");
  return html`<footer>
<details><summary>Software in this page, and its licences</summary>
<p>Besides lampdrift (MIT licence) its script has parts of these packages:</p>
<pre>${notices}</pre></details>
</footer>
<script type="application/json" id="${EMBEDDED_ID}">${trusted(data)}</script>
<script>${trusted(script)}</script>
`;
}
