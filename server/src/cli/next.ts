import { dirname, resolve } from "node:path";
import { historyOf } from "../check/job-history.ts";
import { readShop } from "../check/read-shop.ts";
import { ShopFinder } from "../host/nearest-shop.ts";
import { readText } from "../host/read-text.ts";
import { isJobNote, readNote } from "../note/read-note.ts";
import { harmless } from "../report/display-width.ts";
import { wrap } from "../report/source-line.ts";
import { termInWords } from "../sequence/end.ts";
import { listOf, saysOf } from "../sequence/explain.ts";
import type { History } from "../sequence/history.ts";
import { type NextStep, type NextSteps, nextSteps } from "../sequence/next.ts";
import { noShop } from "../shop/read-shop.ts";
import { EXIT, type ExitStatus, lookFor, type Outside } from "./outside.ts";

/** `witness-mark next FILE`: what to do now, what has to wait until when, and what may not be done yet. */
export function next(file: string, outside: Outside): ExitStatus {
  const fail = (reason: string): ExitStatus => {
    outside.err(`${harmless(file)} ${reason}.\n`);
    return EXIT.failed;
  };
  const { libraries, folder } = outside;
  const path = resolve(folder, file);
  const reading = readText(path);
  if (!reading.ok) return fail(reading.reason);
  const note = readNote(reading.text, libraries.yaml);
  if (!isJobNote(note)) return fail("is no job note: its front matter has no `job:`");
  const shopPath = new ShopFinder().find(dirname(path));
  const shopText = shopPath === undefined ? undefined : readText(shopPath);
  const shop = shopText?.ok
    ? readShop(shopText.text, libraries.yaml, libraries.procedures())
    : noShop(libraries.procedures());
  const history = historyOf(note, shop);
  if (!history) {
    const ids = [...shop.procedures.keys()].join(", ");
    return fail(`names no procedure that is known. Add \`procedure:\` with one of ${ids}`);
  }
  outside.out(inWords(file, history, nextSteps(history), lookFor(outside).width));
  return EXIT.clear;
}

function inWords(
  file: string,
  history: History,
  { steps, outcome, unreachable }: NextSteps,
  width: number,
): string {
  const { procedure, note } = history.grounds;
  const { job, status } = note.frontMatter.fields;
  const paragraphs = [`${harmless(file)}: job ${harmless(job ?? "")}, ${procedure.title}`];
  const listed = (heading: string, when: NextStep["when"]): void => {
    const lines = steps.filter((step) => step.when === when).flatMap((step) => stepInWords(step, width));
    if (lines.length > 0) paragraphs.push([heading, ...lines].join("\n"));
  };
  listed("Now", "now");
  listed("Wait", "wait");
  listed("Not yet", "not yet");
  if (unreachable.length > 0) {
    const says = (name: string) => saysOf(name, procedure);
    const what = listOf(
      unreachable.map(({ term }) => termInWords(term, says)),
      "and",
    );
    paragraphs.push(
      wrap(`No run of steps that is known brings this job to its end, ${outcome}: ${what}.`, width).join(
        "\n",
      ),
    );
  } else if (steps.length === 0) {
    paragraphs.push(
      status === "done"
        ? `Nothing is left to do: the job is ${outcome}.`
        : wrap(
            `Nothing is left to do before the job is ${outcome}. Set \`status: done\` and \`outcome: ${outcome}\`, or the outcome that it really had.`,
            width,
          ).join("\n"),
    );
  } else {
    paragraphs.push(`With these the job is ${outcome}.`);
  }
  if (steps.length > 0) {
    const cautions = procedure.cautions.flatMap((caution) => item(caution, width));
    paragraphs.push(["Caution", ...cautions].join("\n"));
  }
  return `${paragraphs.join("\n\n")}\n`;
}

function stepInWords({ says, because, mind }: NextStep, width: number): string[] {
  const first = because === "" ? says : `${says}: ${because}`;
  return [...item(first, width), ...mind.flatMap((one) => item(one, width - 2).map((line) => `  ${line}`))];
}

function item(text: string, width: number): string[] {
  return wrap(harmless(text), width - 4).map((line, i) => `${i === 0 ? "  - " : "    "}${line}`);
}
