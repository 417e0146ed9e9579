import type { Analysis } from "../../server/src/analysis/analysis.ts";
import { analyze } from "../../server/src/check/analyze.ts";
import { readShop } from "../../server/src/check/read-shop.ts";
import { readNote } from "../../server/src/note/read-note.ts";
import { readYaml } from "../../server/src/note/yaml-library.ts";
import { builtInProcedures } from "../../server/src/procedures/load.ts";
import { noShop } from "../../server/src/shop/read-shop.ts";

export interface Around {
  readonly shop?: string | undefined;
  readonly missing?: readonly string[] | undefined;
}

/** A note's text analysed as the command line and the editor do. */
export function analyzeText(text: string, around: Around = {}): Analysis {
  const shop = around.shop ? readShop(around.shop, readYaml, builtInProcedures) : noShop(builtInProcedures);
  return analyze(readNote(text, readYaml), shop, around.missing ? { missing: new Set(around.missing) } : {});
}

/** A readings block under plain front matter. */
export const readings = (lines: string, label = ""): string =>
  `---\njob: test\n---\n\n\`\`\`readings${label ? ` ${label}` : ""}\n${lines}\n\`\`\`\n`;
