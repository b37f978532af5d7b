import { createHash, randomBytes } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer, type IncomingMessage, type Server, type ServerResponse } from "node:http";
import type { AddressInfo } from "node:net";
import { extname, join } from "node:path";
import { UsageError } from "../output/errors.js";
import { keepInStep } from "./instep.js";

const LOOPBACK = "127.0.0.1";

const TYPES: Readonly<Record<string, string>> = {
  ".html": "text/html; charset=utf-8",
  ".svg": "image/svg+xml",
  ".csv": "text/csv; charset=utf-8",
  ".json": "application/json",
  ".png": "image/png",
  ".jpg": "image/jpeg",
};

/** A page for the time before the first report. */
const WAITING = `<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; script-src 'none'; style-src 'unsafe-inline'">
<title>No report yet</title>
</head>
<body><p>There is no report yet. It is shown here when there is one.</p></body>
</html>
`;

/**
 * Serves a report to this machine alone, and tells the pages that show it when it is made again. The page that is served
 * may ask this server what is new; the file on the disk stays as it is, and asks nobody.
 */
export class ReportServer {
  readonly #server: Server;
  readonly #listeners = new Set<ServerResponse>();
  /** Which making is shown: its number, and of which server. */
  readonly #name = randomBytes(6).toString("hex");
  #count = 0;
  #page = WAITING;
  #problems: string | null = null;

  private constructor(private readonly directory: string) {
    this.#server = createServer((request, response) => void this.#answer(request, response));
  }

  /** Starts it, on a free port where none is given. Throws {@link UsageError} where the port is not to be had. */
  static async start(directory: string, port: number | undefined): Promise<ReportServer> {
    const made = new ReportServer(directory);
    await new Promise<void>((resolve, reject) => {
      made.#server.once("error", ({ code }: NodeJS.ErrnoException) => {
        const why = code === "EADDRINUSE" ? "is in use" : `cannot be had (${code ?? "unknown reason"})`;
        reject(new UsageError(`--port: port ${port ?? 0} ${why}; leave --port out to take any that is free`));
      });
      made.#server.listen({ host: LOOPBACK, port: port ?? 0, exclusive: true }, resolve);
    });
    return made;
  }

  get #port(): number {
    return (this.#server.address() as AddressInfo).port;
  }

  get url(): string {
    return `http://${LOOPBACK}:${this.#port}/`;
  }

  /** The report was made again, or for the first time. */
  show(page: string): void {
    this.#page = page;
    this.#count++;
    this.tell(null);
  }

  /** What is wrong, while the last good report stays; null: nothing. */
  tell(problems: string | null): void {
    this.#problems = problems;
    for (const listener of this.#listeners) listener.write(this.#news());
  }

  async close(): Promise<void> {
    const closed = new Promise((resolve) => this.#server.close(resolve));
    this.#server.closeAllConnections();
    await closed;
  }

  get #made(): string {
    return `${this.#name} ${this.#count}`;
  }

  #news(): string {
    return `data: ${JSON.stringify({ made: this.#made, problems: this.#problems })}\n\n`;
  }

  async #answer({ method, url = "/", headers }: IncomingMessage, response: ServerResponse): Promise<void> {
    response.setHeader("Cache-Control", "no-store");
    response.setHeader("X-Content-Type-Options", "nosniff");
    response.setHeader("Cross-Origin-Resource-Policy", "same-origin");
    const [path = "/"] = url.split("?");
    // a strange name that leads to this machine would let the page behind it read what is served here
    if (!this.#isOurs(headers.host)) say(response, 403, `Ask for this page as ${this.url}`);
    else if (method !== "GET" && method !== "HEAD") say(response, 405, "This can be read only.");
    else if (path === "/events") this.#follow(response);
    else if (path === "/" || path === "/index.html") response.setHeader("Content-Type", TYPES[".html"]!).end(inStep(this.#page, this.#made));
    else await this.#beside(path, response);
  }

  #follow(response: ServerResponse): void {
    response.setHeader("Content-Type", "text/event-stream").write(this.#news());
    this.#listeners.add(response);
    response.once("close", () => this.#listeners.delete(response));
  }

  /** What lies beside the page: pictures, tables, cards. It asks for nothing and runs nothing. */
  async #beside(path: string, response: ServerResponse): Promise<void> {
    const name = /^\/([\w-][\w.-]*)$/.exec(path)?.[1] ?? "";
    const content = name === "" ? null : await readFile(join(this.directory, name)).catch(() => null);
    response.setHeader("Content-Security-Policy", "default-src 'none'; style-src 'unsafe-inline'; img-src data:");
    if (content === null) say(response, 404, "There is no such file in the directory of the report.");
    else response.setHeader("Content-Type", TYPES[extname(name)] ?? "application/octet-stream").end(content);
  }

  #isOurs(host: string | undefined): boolean {
    return [LOOPBACK, "localhost"].some((name) => host === `${name}:${this.#port}` || (this.#port === 80 && host === name));
  }
}

function say(response: ServerResponse, status: number, text: string): void {
  response.writeHead(status, { "Content-Type": "text/plain; charset=utf-8" }).end(`${text}\n`);
}

/** The page with the script that follows its making, and leave for that script to run and to ask. */
function inStep(page: string, made: string): string {
  const script = `(${keepInStep.toString()})(${JSON.stringify(made)});`;
  const digest = createHash("sha256").update(script).digest("base64");
  return page
    .replace(/; script-src (?:'none')?/, () => `; connect-src 'self'; script-src 'sha256-${digest}' `)
    .replace(/<\/body>\s*<\/html>\s*$/, (end) => `<script>${script}</script>\n${end}`);
}
