/** The command that stays open: again whenever a file changes. Nothing here waits for a time; all of it waits for what is printed. */
import { spawn, type ChildProcess } from "node:child_process";
import { EventEmitter, once } from "node:events";
import { mkdir, readFile, rename, rm, writeFile } from "node:fs/promises";
import { request } from "node:http";
import { join } from "node:path";
import { Readable, Writable } from "node:stream";
import { afterEach, describe, expect, test } from "vitest";
import { main } from "../../reports/main.js";
import { browser, complaintsOf, noBrowser } from "./browser.js";
import { cli, scratch, unfolded } from "./command.js";
import { lampdrift } from "./inprocess.js";

const root = await scratch();

const text = (title: string): string => `lampdrift: 1
title: ${title}
opening: { from: "10:00", until: "12:00", run: 2 }
houses: { inn: , mill: , barn: }
boards:
  quay:
    timer: { kind: astable, ra: 47k 1 %, rb: 100k 1 %, c: 100u, trimmer: { value: 500k 20 %, in: rb }, setTo: 40 s }
    counter: { kind: ring, steps: 3 }
    outputs: { 0: inn, 1: mill, 2: barn }
`;

let rooms = 0;
/** A directory with a scenario in it. */
async function display(title: string): Promise<{ cwd: string; write: (content: string, name?: string) => Promise<void> }> {
  const cwd = join(root, String(++rooms));
  await mkdir(cwd);
  const write = (content: string, name = "a.yaml"): Promise<void> => writeFile(join(cwd, name), content);
  await write(text(title));
  return { cwd, write };
}

/** Text that grows, and somebody who waits for something in it. */
class Heard extends EventEmitter {
  text = "";

  add(more: string): void {
    this.text += more;
    this.emit("more");
  }

  /** What was said since the last call, each message on one line, once it has in it what is waited for. */
  async until(what: string): Promise<string> {
    while (!this.text.includes(what)) await once(this, "more");
    const { text: said } = this;
    this.text = "";
    return unfolded(said);
  }
}

const DONE = "watching for changes";
/** The last line of what check prints of these displays. */
const END = "No promises are made.\n";
const running = new Set<ChildProcess>();
afterEach(() => {
  for (const child of running) child.kill("SIGKILL");
  running.clear();
});

class Watching {
  readonly out = new Heard();
  readonly err = new Heard();
  readonly child;
  readonly #ended: Promise<{ status: number | null; signal: string | null }>;

  constructor(args: readonly string[], cwd: string) {
    this.child = spawn(process.execPath, [cli, ...args, "--watch"], { cwd, stdio: ["ignore", "pipe", "pipe"] });
    running.add(this.child);
    this.child.stdout.on("data", (data: Buffer) => this.out.add(data.toString()));
    this.child.stderr.on("data", (data: Buffer) => this.err.add(data.toString()));
    this.#ended = new Promise((resolve) => this.child.on("close", (status, signal) => resolve({ status, signal })));
  }

  async stop(): Promise<{ status: number | null; signal: string | null }> {
    this.child.kill("SIGINT");
    return this.ended();
  }

  async ended(): Promise<{ status: number | null; signal: string | null }> {
    const how = await this.#ended;
    running.delete(this.child);
    return how;
  }
}

describe("check --watch", () => {
  test("checks again when the file is edited, broken, mended, replaced, removed and made again; Ctrl-C ends it quietly", async () => {
    const { cwd, write } = await display("One");
    const watching = new Watching(["check", "a.yaml"], cwd);
    expect(await watching.out.until(END)).toContain("One\n");
    await watching.err.until(DONE);

    await write(text("Two"));
    expect(await watching.out.until(END)).toContain("Two\n");
    await watching.err.until(DONE);

    await write(text("Two").replace("houses:", "hoses:"));
    const problems = await watching.err.until(DONE);
    expect(problems).toMatch(/^a\.yaml:4:1: hoses: unknown key/m);
    expect(problems).toContain("what is above is from before");
    expect(problems).not.toMatch(/\n {4}at /);
    // nothing came in the place of the last good result
    expect(watching.out.text).toBe("");

    await write(text("Three"), "draft");
    await rename(join(cwd, "draft"), join(cwd, "a.yaml"));
    expect(await watching.out.until(END)).toContain("Three\n");
    await watching.err.until(DONE);

    await rm(join(cwd, "a.yaml"));
    expect(await watching.err.until(DONE)).toContain("a.yaml: there is no such file");
    await write(text("Four"));
    expect(await watching.out.until(END)).toContain("Four\n");
    await watching.err.until(DONE);

    expect(await watching.stop()).toEqual({ status: 0, signal: null });
    expect(watching.out.text + watching.err.text).toBe("");
  });

  test("begins with a file that is not there yet", async () => {
    const { cwd, write } = await display("Here");
    const watching = new Watching(["check", "b.yaml"], cwd);
    expect(await watching.err.until(DONE)).toMatch(/^b\.yaml: there is no such file\nwatching/);
    await write(text("There"), "b.yaml");
    expect(await watching.out.until(END)).toContain("There\n");
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
  });

  test("looks at the base too, at a base that is missing, and at another base when the file names one", async () => {
    const { cwd, write } = await display("Base");
    await write("base: a.yaml\nseed: other\n", "variant.yaml");
    const watching = new Watching(["check", "variant.yaml"], cwd);
    expect(await watching.out.until(END)).toContain("Base\n");
    await watching.err.until(DONE);

    await write(text("Base anew"));
    expect(await watching.out.until(END)).toContain("Base anew\n");
    await watching.err.until(DONE);

    await rm(join(cwd, "a.yaml"));
    expect(await watching.err.until(DONE)).toMatch(/^variant\.yaml:1:7: base: .*a\.yaml: there is no such file/m);
    await write(text("Base again"));
    expect(await watching.out.until(END)).toContain("Base again\n");
    await watching.err.until(DONE);

    await write(text("Other base"), "b.yaml");
    await write("base: b.yaml\n", "variant.yaml");
    expect(await watching.out.until(END)).toContain("Other base\n");
    await watching.err.until(DONE);
    await write(text("Other base anew"), "b.yaml");
    expect(await watching.out.until(END)).toContain("Other base anew\n");
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
  });

  test("looks at the picture, too", async () => {
    const { cwd, write } = await display("Pictured");
    await write(`${text("Pictured")}picture: quay.svg\n`);
    const watching = new Watching(["check", "a.yaml"], cwd);
    expect(await watching.err.until(DONE)).toMatch(/^a\.yaml:10:10: picture: found "?quay\.svg"?; .*no such file/m);
    await write('<svg xmlns="http://www.w3.org/2000/svg" width="40" height="30"/>', "quay.svg");
    expect(await watching.out.until(END)).toContain("Pictured\n");
    await watching.err.until(DONE);
    await write("GIF89a", "quay.svg");
    expect(await watching.err.until(DONE)).toContain("this is a GIF");
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
  });

  test("ends when nobody reads what it prints", async () => {
    const { cwd, write } = await display("Read");
    const watching = new Watching(["check", "a.yaml"], cwd);
    await watching.err.until(DONE);
    watching.child.stdout.destroy();
    await write(text("Unread"));
    expect(await watching.ended()).toEqual({ status: 0, signal: null });
  });
});

describe("on a terminal", () => {
  /** A terminal: what is written to it, and Ctrl-C. */
  class Terminal {
    readonly heard = new Heard();
    readonly keys = new EventEmitter();
    readonly io;

    constructor() {
      const write = (chunk: Buffer, _: BufferEncoding, done: () => void): void => {
        this.heard.add(chunk.toString());
        done();
      };
      const screen = (): Writable => Object.assign(new Writable({ write }), { isTTY: true, columns: 80 });
      this.io = { stdin: Readable.from([]), stdout: screen(), stderr: screen(), once: this.keys.once.bind(this.keys), off: this.keys.off.bind(this.keys) };
    }
  }

  test("the last good result stays, with what is wrong under it", async () => {
    const { cwd, write } = await display("Shown");
    const { heard, keys, io } = new Terminal();
    const ended = main(["check", join(cwd, "a.yaml"), "--watch"], io);
    const first = await heard.until(DONE);
    expect(first).toMatch(/^\u001b\[2J\u001b\[H/);
    expect(first).toContain("Shown\n");
    await write("lampdrift: 1\n");
    const second = await heard.until(DONE);
    expect(second).toMatch(/^\u001b\[2J\u001b\[H/);
    expect(second.indexOf("Shown\n")).toBeGreaterThan(0);
    expect(second.indexOf("title: ")).toBeGreaterThan(second.indexOf(END));
    await write(text("Mended"));
    const third = await heard.until(DONE);
    expect(third).toContain("Mended\n");
    expect(third).not.toContain("from before");
    keys.emit("SIGINT");
    expect(await ended).toBe(0);
    expect(keys.listenerCount("SIGINT")).toBe(0);
  });
});

test("run --watch simulates again, when the build of --build changes too", async () => {
  const { cwd, write } = await display("Run");
  const dial = (title: string): string => text(title).replace("setTo: 40 s", "dial: 40 %");
  await write(dial("Run"));
  await write('{ "quay.ra": 0 }', "build.json");
  const watching = new Watching(["run", "a.yaml", "--build", "build.json"], cwd);
  const before = /^quay .*$/m.exec(await watching.out.until("assumed"))![0];
  await watching.err.until(DONE);
  await write('{ "quay.ra": 7 }', "build.json");
  expect(await watching.err.until(DONE)).toContain("quay.ra: found 7; expected a share of the tolerance");
  await write('{ "quay.ra": 1 }', "build.json");
  expect(/^quay .*$/m.exec(await watching.out.until("assumed"))![0]).not.toBe(before);
  await watching.err.until(DONE);
  await write(dial("Run anew"));
  expect(await watching.out.until("assumed")).toContain("Run anew\n");
  expect(await watching.stop()).toEqual({ status: 0, signal: null });
});

test.each<[args: string[], says: RegExp]>([
  [["check", "a.yaml", "--watch", "--json"], /--watch.*--json/],
  [["run", "a.yaml", "--json", "--watch"], /--json|--watch/],
  [["report", "a.yaml", "--port", "8080"], /--port goes with --watch/],
  [["report", "a.yaml", "--watch", "--port", "70000"], /65535/],
])("%j is refused", async (args, says) => {
  const { status, stdout, stderr } = await lampdrift(args);
  expect({ status, stdout }).toEqual({ status: 2, stdout: "" });
  expect(stderr).toMatch(says);
});

interface Answer {
  readonly status: number;
  readonly type: string;
  readonly body: string;
}

/** Asks a server for a path exactly as it is given, by whatever name. */
function ask(url: string, path: string, { host = new URL(url).host, method = "GET" } = {}): Promise<Answer> {
  const { hostname, port } = new URL(url);
  return new Promise((resolve, reject) => {
    const asked = request({ hostname, port, path, method, headers: { host } }, (response) => {
      let body = "";
      response.on("data", (data: Buffer) => (body += data.toString()));
      response.on("end", () => resolve({ status: response.statusCode!, type: response.headers["content-type"]!, body }));
    });
    asked.on("error", reject).end();
  });
}

/** Where the page is shown, once it is. */
async function addressOf(watching: Watching): Promise<string> {
  return /http:\S+/.exec(await watching.err.until(DONE))![0];
}

describe("report --watch", () => {
  const args = ["report", "a.yaml", "--builds", "0", "-o", "out"];

  test("shows this machine alone the page that it writes; the file stays strict", async () => {
    const { cwd, write } = await display("Served");
    const watching = new Watching(args, cwd);
    const url = await addressOf(watching);
    expect(url).toMatch(/^http:\/\/127\.0\.0\.1:\d+\/$/);

    const page = await ask(url, "/");
    expect(page).toMatchObject({ status: 200, type: "text/html; charset=utf-8" });
    const policy = (html: string): string => /Content-Security-Policy" content="([^"]*)"/.exec(html)![1]!.replaceAll("&#39;", "'");
    const file = await readFile(join(cwd, "out/index.html"), "utf8");
    expect(policy(file)).not.toMatch(/connect-src|'self'/);
    expect(file).not.toContain("EventSource");
    expect(policy(page.body)).toContain("default-src 'none'; connect-src 'self'; script-src 'sha256-");
    // all else is the file: what is served is it with one policy widened and one script more
    const own = page.body.slice(page.body.lastIndexOf("<script>"));
    expect(page.body.replace(own, "").replace(/ connect-src 'self'; script-src 'sha256-[^']*'/, " script-src")).toBe(file.replace("</body>\n</html>\n", ""));

    expect(await ask(url, "/figures.json")).toEqual({ status: 200, type: "application/json", body: await readFile(join(cwd, "out/figures.json"), "utf8") });
    await write("secret", "secret.txt");
    for (const path of ["/../secret.txt", "/..%2fsecret.txt", "/%2e%2e/secret.txt", "/.made.json", "//etc/passwd", "/a/b", "/out", "/cards.html"]) {
      expect((await ask(url, path)).status, path).toBe(404);
    }
    // a name that somebody else made to lead here
    for (const host of ["harbour.example", `harbour.example:${new URL(url).port}`, "127.0.0.1", "127.0.0.1:1"]) {
      for (const path of ["/", "/events", "/figures.json"]) expect((await ask(url, path, { host })).status, `${host} ${path}`).toBe(403);
    }
    expect((await ask(url, "/", { host: `localhost:${new URL(url).port}` })).status).toBe(200);
    expect((await ask(url, "/", { method: "POST" })).status).toBe(405);

    // the port is taken
    const second = await lampdrift(["report", join(cwd, "a.yaml"), "--watch", "--port", new URL(url).port, "-o", join(cwd, "other")]);
    expect(second).toMatchObject({ status: 2, stdout: "" });
    expect(second.stderr).toContain(`port ${new URL(url).port} is in use`);

    // somebody still looks
    const events = fetch(`${url}events`);
    const reader = (await events).body!.getReader();
    expect(new TextDecoder().decode((await reader.read()).value)).toMatch(/^data: \{"made":"\w+ 1","problems":null\}\n\n$/);
    await write(text("Served").replace("inn: ,", "inn"));
    expect(new TextDecoder().decode((await reader.read()).value)).toMatch(/"made":"\w+ 1","problems":"a\.yaml:4/);
    await watching.err.until("from before");
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
    expect(watching.out.text).toBe("");
  });

  test("shows what there is before the first report, too", async () => {
    const { cwd } = await display("Late");
    const watching = new Watching(["report", "b.yaml", "-o", "out"], cwd);
    const url = await addressOf(watching);
    expect((await ask(url, "/")).body).toContain("There is no report yet");
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
  });
});

describe.skipIf(noBrowser)("a page that is served", () => {
  const chromium = browser();

  test("shows the new report by itself, at the moment, the speed and the place that it was at", async () => {
    const { cwd, write } = await display("Before");
    const watching = new Watching(["report", "a.yaml", "--builds", "0", "-o", "out"], cwd);
    const url = await addressOf(watching);
    const page = await chromium.page(900);
    await page.emulateMedia({ reducedMotion: "reduce" });
    const complaints = complaintsOf(page);
    await page.goto(url);
    await page.getByRole("button", { name: "Play" }).waitFor();
    await page.getByRole("combobox", { name: "Speed" }).selectOption("600");
    await page.getByRole("combobox", { name: "Opening" }).selectOption({ index: 1 });
    await page.getByRole("slider", { name: "Time of day" }).evaluate((slider: HTMLInputElement) => {
      slider.value = "40123";
      slider.dispatchEvent(new Event("input", { bubbles: true }));
    });
    const placeOf = (): Promise<number> => page.evaluate(() => document.getElementById("houses")!.getBoundingClientRect().top);
    await page.evaluate(() => document.getElementById("houses")!.scrollIntoView({ behavior: "instant" }));
    await page.evaluate(() => scrollBy({ top: 37, behavior: "instant" }));
    const place = await placeOf();

    await write(text("After"));
    await page.getByRole("heading", { level: 1, name: "After" }).waitFor();
    await page.waitForFunction(() => sessionStorage.length === 0 && document.querySelector("label.choice") !== null);
    expect(await page.getByRole("slider", { name: "Time of day" }).inputValue()).toBe("40123");
    expect(await page.getByRole("combobox", { name: "Speed" }).inputValue()).toBe("600");
    expect(await page.getByRole("combobox", { name: "Opening" }).inputValue()).toBe("1");
    await page.waitForFunction((top) => Math.abs(document.getElementById("houses")!.getBoundingClientRect().top - top) < 2, place);
    expect(page.url()).toBe(url);

    // it says what is wrong, and stays
    const bar = page.locator(".in-step");
    await write(text("After").replace("houses:", "hoses:"));
    await bar.getByText("a.yaml:4:1: hoses: unknown key").waitFor();
    expect(await page.getByRole("heading", { level: 1 }).textContent()).toBe("After");
    // it takes nothing away that is being tried out
    await page.getByRole("textbox", { name: "Scenario" }).fill(text("Tried"));
    await write(text("Third"));
    await page.getByRole("button", { name: "Show the new report" }).waitFor();
    expect(await page.getByRole("textbox", { name: "Scenario" }).inputValue()).toBe(text("Tried"));
    await page.getByRole("button", { name: "Show the new report" }).click();
    await page.getByRole("heading", { level: 1, name: "Third" }).waitFor();
    // and it is told when nobody watches any more
    expect(await watching.stop()).toEqual({ status: 0, signal: null });
    await bar.getByText("Nothing is watched any more").waitFor();
    expect(complaints.filter((line) => !/ERR_CONNECTION_REFUSED|ERR_INCOMPLETE_CHUNKED|Failed to load resource/.test(line))).toEqual([]);
    await page.close();
  });
});
