// The floor under every checker: lists the notes of the current folder, reads each once, and does nothing.
import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";

let characters = 0;
function read(folder) {
  for (const entry of readdirSync(folder, { withFileTypes: true })) {
    const path = join(folder, entry.name);
    if (entry.isDirectory()) read(path);
    else if (entry.name.endsWith(".md")) characters += readFileSync(path, "utf8").length;
  }
}
read(".");
console.log(characters);
