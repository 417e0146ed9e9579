// Builds the bundles into `dist`: all of them, or those named. `--quiet` says nothing about sizes.
import { join } from "node:path";
import { entries, makeBrowserBundles, makeBundles } from "./server/build/bundles.mjs";

const given = process.argv.slice(2);
const named = given.filter((argument) => !argument.startsWith("--"));
const sizes = await makeBundles(join(import.meta.dirname, "dist"), {
  names: named.length > 0 ? named : Object.keys(entries),
});
if (named.length === 0) {
  const made = await makeBrowserBundles(join(import.meta.dirname, "dist"));
  for (const [name, { outputs }] of Object.entries(made)) sizes[name] = Object.values(outputs)[0].bytes;
}
if (!given.includes("--quiet")) {
  for (const [name, bytes] of Object.entries(sizes)) {
    console.log(`dist/${name}.js  ${(bytes / 1024).toFixed(0)} KiB`);
  }
}
