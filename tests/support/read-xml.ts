import { SaxesParser } from "saxes";

export interface XmlElement {
  readonly name: string;
  readonly attributes: Readonly<Record<string, string>>;
  readonly children: XmlElement[];
  text: string;
}

/** Reads XML strictly: anything that is not well-formed XML 1.0 fails. */
export function readXml(text: string): XmlElement {
  const root: XmlElement = { name: "", attributes: {}, children: [], text: "" };
  const open = [root];
  const parser = new SaxesParser();
  parser.on("error", (fault) => {
    throw fault;
  });
  parser.on("opentag", ({ name, attributes }) => {
    const element = { name, attributes, children: [], text: "" };
    open.at(-1)?.children.push(element);
    open.push(element);
  });
  parser.on("closetag", () => open.pop());
  parser.on("text", (piece) => {
    const top = open.at(-1);
    if (top) top.text += piece;
  });
  parser.write(text).close();
  const [only] = root.children;
  if (only === undefined) throw new Error("There is no element.");
  return only;
}
