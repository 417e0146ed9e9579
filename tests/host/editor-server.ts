import { type ChildProcess, execFile, spawn } from "node:child_process";
import { closeSync, mkdirSync, openSync, readFileSync, writeFileSync } from "node:fs";
import { createServer } from "node:net";
import { delimiter, dirname, join } from "node:path";
import { setTimeout as pause } from "node:timers/promises";
import { promisify } from "node:util";
import { editorEntryPath, editorNodeFolder } from "./paths.ts";

const START_PATIENCE_MS = 60_000;
const STOP_PATIENCE_MS = 5_000;

/** Settings that keep the workbench quiet and the same from run to run. */
const QUIET_SETTINGS = {
  "workbench.startupEditor": "none",
  "workbench.tips.enabled": false,
  // Nothing is caught half faded in.
  "workbench.reduceMotion": "on",
  "workbench.secondarySideBar.defaultVisibility": "hidden",
  "telemetry.telemetryLevel": "off",
  // A browser host saves by itself otherwise, and no tab would ever be dirty.
  "files.autoSave": "off",
  "editor.inlayHints.enabled": "on",
  "editor.minimap.enabled": false,
  "editor.occurrencesHighlight": "off",
  "chat.disableAIFeatures": true,
  "extensions.ignoreRecommendations": true,
  // In an untrusted folder the prompt would lie over the page; without it the folder just stays untrusted.
  "security.workspace.trust.startupPrompt": "never",
};

export interface ServeOptions {
  /** A folder of the test's own; everything the editor writes lands below it. */
  readonly scratch: string;
  readonly vsix: string;
  readonly folder: string;
  /** False serves the folder untrusted, as the editor does with a folder fetched from a stranger. */
  readonly trusted: boolean;
  readonly settings: Readonly<Record<string, unknown>>;
}

export interface EditorServer {
  readonly url: string;
  /** What the editor's processes have printed so far. */
  log(): string;
  stop(): Promise<void>;
}

/** Installs the packaged extension into an empty editor and serves the folder on a free loopback port. */
export async function serveEditor(options: ServeOptions): Promise<EditorServer> {
  const { scratch, vsix, folder, trusted } = options;
  const userData = join(scratch, "user-data");
  const settings = join(userData, "User/settings.json");
  mkdirSync(dirname(settings), { recursive: true });
  writeFileSync(settings, JSON.stringify({ ...QUIET_SETTINGS, ...options.settings }, null, 2));

  const common = [
    editorEntryPath,
    ...["--user-data-dir", userData],
    ...["--extensions-dir", join(scratch, "extensions")],
    ...["--config", join(scratch, "editor.yaml")],
  ];
  const node = join(editorNodeFolder, "node");
  const env = {
    ...process.env,
    PATH: `${editorNodeFolder}${delimiter}${process.env.PATH ?? ""}`,
    HOME: scratch,
    EXTENSIONS_GALLERY: '{"serviceUrl":""}',
  };
  await promisify(execFile)(node, [...common, "--install-extension", vsix], { env });

  const port = await freePort();
  const logPath = join(scratch, "editor.log");
  const logFile = openSync(logPath, "a");
  const child = spawn(
    node,
    [
      ...common,
      ...["--auth", "none", "--bind-addr", `127.0.0.1:${port}`],
      ...["--disable-telemetry", "--disable-update-check", "--disable-getting-started-override"],
      ...(trusted ? ["--disable-workspace-trust"] : []),
      folder,
    ],
    // Its own process group, so that stopping it also ends the extension host and the language server.
    { env, detached: true, stdio: ["ignore", logFile, logFile] },
  );
  closeSync(logFile);
  const log = () => readFileSync(logPath, "utf8");
  const endWithTests = () => signalGroup(child, "SIGKILL");
  process.once("exit", endWithTests);
  const stop = async () => {
    await stopGroup(child);
    process.off("exit", endWithTests);
  };

  const url = `http://127.0.0.1:${port}`;
  try {
    await waitUntilHealthy(url, child);
  } catch (cause) {
    await stop();
    throw new Error(`The editor did not start. It printed:\n${log()}`, { cause });
  }
  return { url, log, stop };
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const probe = createServer();
    probe.once("error", reject);
    probe.listen(0, "127.0.0.1", () => {
      const address = probe.address();
      const port = typeof address === "object" && address !== null ? address.port : 0;
      probe.close(() => resolve(port));
    });
  });
}

async function waitUntilHealthy(url: string, child: ChildProcess): Promise<void> {
  const deadline = Date.now() + START_PATIENCE_MS;
  while (Date.now() < deadline) {
    if (child.exitCode !== null) throw new Error(`It ended with status ${child.exitCode}.`);
    const answer = await fetch(`${url}/healthz`).catch(() => undefined);
    if (answer?.ok) return;
    await pause(150);
  }
  throw new Error(`It did not answer within ${START_PATIENCE_MS / 1000} seconds.`);
}

/** Signals the group that this process started; a group that is already gone is what was wanted. */
function signalGroup(child: ChildProcess, signal: NodeJS.Signals): boolean {
  if (child.pid === undefined) return false;
  try {
    return process.kill(-child.pid, signal);
  } catch {
    return false;
  }
}

async function stopGroup(child: ChildProcess): Promise<void> {
  signalGroup(child, "SIGTERM");
  const deadline = Date.now() + STOP_PATIENCE_MS;
  while (Date.now() < deadline && child.exitCode === null && child.signalCode === null) await pause(50);
  // The leader may be gone while a child of it lingers.
  signalGroup(child, "SIGKILL");
}
