/**
 * A real Chromium for tests: the system's where there is one; else, on Linux x64, the binary that comes by npm
 * (@sparticuz/chromium), unpacked once into the temporary folder; elsewhere the one that playwright-core installs for
 * itself, once, over the network. No test is skipped for want of a browser.
 */
import { execFile } from "node:child_process";
import { existsSync } from "node:fs";
import { chmod, mkdir, mkdtemp, readFile, rename, rm, writeFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join } from "node:path";
import { promisify } from "node:util";
import { brotliDecompress } from "node:zlib";
import { type Browser, chromium } from "playwright-core";

const systemPaths = [
  "/usr/bin/chromium",
  "/usr/bin/chromium-browser",
  "/usr/bin/google-chrome",
  "/usr/bin/google-chrome-stable",
  "/snap/bin/chromium",
  "/Applications/Google Chrome.app/Contents/MacOS/Google Chrome",
  "/Applications/Chromium.app/Contents/MacOS/Chromium",
];

const flags = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
  "--force-color-profile=srgb",
];

/** Starts Chromium. `CHROMIUM_PATH` names a binary of one's own. The caller closes it. */
export async function launchBrowser(): Promise<Browser> {
  const found = [process.env.CHROMIUM_PATH ?? "", ...systemPaths].find((path) => path !== "" && existsSync(path));
  if (found !== undefined) return chromium.launch({ executablePath: found, args: flags });
  if (process.platform !== "linux" || process.arch !== "x64") return chromium.launch(await installedChromium());
  const { executable, libraries } = await unpackedChromium();
  const inherited = process.env.LD_LIBRARY_PATH;
  const LD_LIBRARY_PATH = inherited === undefined ? libraries : `${libraries}:${inherited}`;
  return chromium.launch({ executablePath: executable, args: flags, env: { ...process.env, LD_LIBRARY_PATH } });
}

/** For arm64 and macOS no binary comes by npm: the library's own installer brings one, into its own folder. */
async function installedChromium(): Promise<{ readonly args: string[] }> {
  if (!existsSync(chromium.executablePath())) {
    const packages = createRequire(import.meta.url);
    const installer = join(dirname(packages.resolve("playwright-core/package.json")), "cli.js");
    await promisify(execFile)(process.execPath, [installer, "install", "chromium"]).catch((error: unknown) => {
      throw new Error(
        `No Chromium found and none could be installed. Install Chrome or Chromium, or set CHROMIUM_PATH to its binary. (${error instanceof Error ? error.message : String(error)})`,
      );
    });
  }
  return { args: flags };
}

/** Unpacks into a folder of its own and renames it last, so two test runs at once never see half a binary. */
async function unpackedChromium(): Promise<{ executable: string; libraries: string }> {
  const packages = createRequire(import.meta.url);
  const root = join(dirname(packages.resolve("@sparticuz/chromium")), "..", "..");
  const { version } = JSON.parse(await readFile(join(root, "package.json"), "utf8")) as { version: string };
  const folder = join(tmpdir(), `afterrun-test-chromium-${version}-${process.getuid?.() ?? 0}`);
  const paths = { executable: join(folder, "chromium"), libraries: join(folder, "al2023", "lib") };
  if (existsSync(folder)) return paths;
  const draft = await mkdtemp(join(tmpdir(), "afterrun-test-chromium-"));
  const unpack = promisify(brotliDecompress);
  await writeFile(join(draft, "chromium"), await unpack(await readFile(join(root, "bin", "chromium.br"))));
  await chmod(join(draft, "chromium"), 0o755);
  for (const [archive, into] of [
    ["al2023.tar.br", "al2023"],
    ["swiftshader.tar.br", "."],
  ] as const) {
    const tar = join(draft, `${archive}.tar`);
    await writeFile(tar, await unpack(await readFile(join(root, "bin", archive))));
    await mkdir(join(draft, into), { recursive: true });
    await promisify(execFile)("tar", ["-xf", tar, "-C", join(draft, into)]);
    await rm(tar);
  }
  await rename(draft, folder).catch(async () => rm(draft, { recursive: true, force: true }));
  return paths;
}
