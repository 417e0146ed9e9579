import { describe, expect, it } from "vitest";
import { Base } from "../../server/src/base/base.ts";
import { findSimilar } from "../../server/src/base/similar.ts";
import { WordIndex } from "../../server/src/base/word-index.ts";
import { earlierJobs } from "./earlier-jobs.ts";
import { answerJob, judged } from "./judged.ts";
import { recordOf } from "./records.ts";

const base = new Base(earlierJobs.map((job) => recordOf(job)));
const index = new WordIndex(base.notes);
const jobs = (asked: (typeof judged)[number]): unknown[] =>
  findSimilar(recordOf(asked.asks), base, index, 3).map(({ note }) => base.notes[note]?.fields.job);

describe("earlier jobs like a new one", () => {
  it("bring the one that a technician wants among the first three for at least 18 of 20", () => {
    const missed = judged.filter((one) => !jobs(one).includes(answerJob(one)));
    expect(missed.map(({ asks }) => asks.complaint).slice(2)).toEqual([]);
  });

  it("are never the note itself", () => {
    for (const job of earlierJobs.slice(0, 5)) {
      const found = findSimilar(recordOf(job), base, index, 60);
      expect(found.map(({ note }) => base.notes[note]?.fields.job)).not.toContain(job.job);
    }
  });

  it("come with what they have in common", () => {
    const [first] = judged;
    const [best] = first ? findSimilar(recordOf(first.asks), base, index, 1) : [];
    expect(best?.because.join("; ")).toMatch(/complaint: .*droplet/);
    expect(best?.because).toContain("the same procedure, lamp-moisture");
    expect(best?.because.join("; ")).toContain("near in value: test pressure 0.8 psi");
  });
});
