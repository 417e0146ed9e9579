import { nearest } from "../text/nearest.ts";
import { listed, type Report, type Rule, type RulePage, replace, type Subject } from "./rule.ts";

export const rule: Rule = {
  id: "accept/unused",
  severity: "warning",
  why: "An accept that matches nothing would silently swallow the next finding of its kind.",
  *check({ note, accepts, ruleIds }): Iterable<Report> {
    for (const { accept, matches, standing } of accepts) {
      if (matches) continue;
      if (accept.rule === "") {
        yield nameless(accept, note.text, standing);
        continue;
      }
      if (!ruleIds.includes(accept.rule)) {
        const near = nearestRules(accept.rule, ruleIds);
        // "accept delivery note: signed" is nobody's rule.
        if (accept.rule.includes("/") || near.length > 0) yield unknownRule(accept, note.text, near);
        continue;
      }
      if (accept.reason === "") continue;
      yield {
        range: accept.range,
        message: `\`${accept.rule}\` is accepted here, but nothing of that kind is found.`,
        advice: "Take the accept away, or put it on the line or before the block that it is meant for.",
        fixes: [takenAway(accept)],
      };
    }
  },
};

type Accept = Subject["accepts"][number]["accept"];

/** An accept says of which finding; without that it would swallow whatever comes to stand there. */
function nameless(accept: Accept, text: string, standing: readonly string[]): Report {
  const colon = text.indexOf(":", accept.range.from);
  const at = { from: colon, to: colon };
  return {
    range: accept.range,
    message: "Nothing is accepted here, as this does not say which finding.",
    advice:
      standing.length > 0
        ? `What stands here is ${listed(standing, "and")}. Write its name between \`accept\` and the colon.`
        : "No finding stands here, so there is nothing to accept: take this away, or word the remark otherwise.",
    fixes: [...standing.map((id) => replace(`Accept ${id}`, at, ` ${id}`, "choice")), takenAway(accept)],
  };
}

function unknownRule(accept: Accept, text: string, near: readonly string[]): Report {
  const from = text.toLowerCase().indexOf(accept.rule, accept.range.from);
  const range = { from, to: from + accept.rule.length };
  return {
    range,
    message: `There is no rule \`${accept.rule}\`, so nothing is accepted here.`,
    advice:
      near.length > 0
        ? `Did you mean ${listed(near)}?`
        : "Copy the rule's name from the finding that is meant; it stands before the finding's words.",
    fixes: [...near.map((id) => replace(`Write ${id}`, range, id, "choice")), takenAway(accept)],
  };
}

/** By the whole name, else by what stands behind the slash, since the kind before it is soon mixed up. */
function nearestRules(written: string, ruleIds: readonly string[]): readonly string[] {
  const near = nearest(written, ruleIds);
  if (near.length > 0 || !written.includes("/")) return near;
  const bare = written.slice(written.indexOf("/") + 1);
  const byBare = new Map(ruleIds.map((id) => [id.slice(id.indexOf("/") + 1), id]));
  const same = byBare.get(bare);
  return same ? [same] : nearest(bare, [...byBare.keys()]).flatMap((one) => byBare.get(one) ?? []);
}

const takenAway = ({ range }: Accept) => replace("Take the accept away", range, "", "choice");

export const page: RulePage = {
  title: "An accept that matches nothing",
  means:
    "The note accepts a finding that is not there: it was mended since, or the accept stands in the wrong place, or there is no rule of that name.",
  mend: "Take the accept away, move it, or correct the rule's name.",
  fix: "Writes the nearest rule, or takes the comment away.",
  breaks: {
    note: "```readings\nflow: 0.4 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded: new part ordered\n```\n",
  },
  keeps: {
    note: "```readings\nflow: 0.9 L/min\n```\n\n```limits\nflow <= 0.5 L/min   # accept limit/exceeded: new part ordered\n```\n",
  },
};
