import { afterAll, beforeAll, expect, it } from "vitest";
import type * as lsp from "vscode-languageserver/node";
import { buildBundles, removeBundles } from "./build-server.ts";
import { Editor } from "./editor.ts";

let bundles: string;
let editor: Editor;
beforeAll(async () => {
  bundles = await buildBundles();
  editor = await Editor.start({ folder: bundles });
});
afterAll(async () => {
  expect(await editor.stop()).toBe(0);
  expect(editor.log).toEqual([]);
  removeBundles(bundles);
});

const HEAD =
  "---\njob: 1\nprocedure: lamp-moisture\nsubject: invented lamp\ndate: 2031-03-04\nstatus: open\n---\n\n";
const steps = (lines: string): string => `\`\`\`steps\n${lines}\n\`\`\`\n`;

async function lensesOf(text: string): Promise<string[]> {
  const uri = "untitled:note";
  await editor.open(uri, text);
  const lenses: lsp.CodeLens[] = await editor.connection.sendRequest("textDocument/codeLens", {
    textDocument: { uri },
  });
  return Promise.all(
    lenses.map(async (lens) => {
      const { command }: lsp.CodeLens = await editor.connection.sendRequest("codeLens/resolve", lens);
      return `${lens.range.start.line}: ${command?.title}`;
    }),
  );
}

it("says what is done, what is to do, and under the last block what comes next", async () => {
  const first = steps("08:40  assess: droplets\n08:50  isolate power: key off");
  const second = steps("08:55  block vents: both capped\n09:10  pressurize: smoke, 0.8 psi\n--:--  locate");
  const [before, last, ...more] = await lensesOf(`${HEAD}${first}\n${second}`);
  expect(before).toBe("8: 2 done");
  expect(last).toMatch(/^13: 2 done · 1 to do · next: locate/);
  expect(more).toEqual([]);
});

it("says what waits until when", async () => {
  const [lens] = await lensesOf(
    HEAD +
      steps(
        [
          "08:40  assess: droplets",
          "08:50  isolate power: key off",
          "08:55  block vents: both capped",
          "09:10  pressurize: smoke, 0.8 psi",
          "09:25  locate [lower seam]: found",
          "09:30  relieve pressure",
          "09:32  unblock vents",
          "09:40  dry: fan and warm air 42 degC until 11:40",
          "12:10  inspect: none",
          "12:20  clean [lower seam]: alcohol wipe",
          "12:35  seal [lower seam]: flowable silicone, bead 16 cm",
        ].join("\n"),
      ),
  );
  expect(lens).toMatch(/^8: 11 done · .*waits: [^·]* until \d{4}-\d{2}-\d{2} \d{2}:\d{2}/);
});

it("counts only, where the job is done or the procedure is not known", async () => {
  const block = steps("08:40  assess: droplets\n--:--  locate");
  expect(await lensesOf(HEAD.replace("status: open", "status: done\noutcome: declined") + block)).toEqual([
    "9: 1 done · 1 to do",
  ]);
  expect(await lensesOf(HEAD.replace("lamp-moisture", "no such") + block)).toEqual(["8: 1 done · 1 to do"]);
});
