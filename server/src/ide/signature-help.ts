import type { Analysis } from "../analysis/analysis.ts";
import { signature } from "../analysis/call-matching.ts";
import { commentStart } from "../language/scanner.ts";
import type { Shop } from "../shop/shop.ts";
import type { Card } from "./card.ts";
import { parameterSays } from "./cards.ts";
import { formulaPlace, type OpenCall } from "./completion/formula-place.ts";
import { lineOf } from "./locate.ts";
import { functionNamed } from "./look-up.ts";

/** The function whose brackets the cursor stands in. */
export interface SignatureHelp {
  readonly label: string;
  readonly card: Card;
  readonly parameters: readonly { readonly from: number; readonly to: number; readonly says: string }[];
  /** Index of the parameter that is being typed; undefined past the last one. */
  readonly active: number | undefined;
}

export function signatureHelp(analysis: Analysis, shop: Shop, offset: number): SignatureHelp | undefined {
  const line = lineOf(analysis.note, offset);
  if (!line || (line.kind !== "readings" && line.kind !== "limits")) return undefined;
  const before = analysis.note.text.slice(line.placed.offset, offset);
  if (commentStart(before) < before.length) return undefined;
  const from = line.kind === "limits" ? 0 : before.indexOf("=") + 1;
  if (line.kind === "readings" && from === 0) return undefined;
  const call = formulaPlace(before, from).call;
  const entry = call && functionNamed(call.name, shop);
  if (!call || !entry) return undefined;
  const label = signature(entry);
  let at = entry.name.length + 1;
  const parameters = entry.parameters.map((parameter) => {
    const to = at + parameter.name.length + (parameter.optional ? 2 : 0);
    const placed = { from: at, to, says: parameterSays(parameter) };
    at = to + ", ".length;
    return placed;
  });
  const active = activeParameter(
    call,
    entry.parameters.map(({ name }) => name),
  );
  return {
    label,
    card: { title: entry.name, parts: [{ kind: "says", text: entry.says }] },
    parameters,
    active,
  };
}

function activeParameter(call: OpenCall, names: readonly string[]): number | undefined {
  const index = call.label === undefined ? call.index : names.indexOf(call.label);
  return index >= 0 && index < names.length ? index : undefined;
}
