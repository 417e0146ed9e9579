import type { Analysis } from "../../server/src/analysis/analysis.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import type { Shop } from "../../server/src/shop/shop.ts";

/** An invented shop file with two instruments. */
export const SHOP_TEXT = `instruments:
  P1:
    description: invented pressure gauge
    measures: pressure
    range: 0 to 2 psi
    resolution: 0.01 psi
    accuracy: 1 % of full scale
  F1:
    description: invented flow meter
    measures: flow
    range: 0 to 5 L/min
    resolution: 0.01 L/min
    accuracy: 2 % of reading
`;

export const shop: Shop = readShop(SHOP_TEXT, readYaml, builtInProcedures);

export interface At {
  readonly analysis: Analysis;
  readonly text: string;
  /** Where `$0` stood. */
  readonly offset: number;
}

/** Analyses a note that has `$0` where the cursor is. */
export function noteAt(marked: string): At {
  const offset = marked.indexOf("$0");
  if (offset < 0) throw new Error("the note has no $0");
  const text = marked.slice(0, offset) + marked.slice(offset + 2);
  return { analysis: analyze(readNote(text, readYaml), shop), text, offset };
}

export const FRONT_MATTER = "---\njob: 2031-0001\nprocedure: lamp-moisture\nstatus: open\n---\n\n";

/** A note with one block. */
export const blockAt = (kind: string, lines: string): At =>
  noteAt(`${FRONT_MATTER}\`\`\`${kind}\n${lines}\n\`\`\`\n`);
