// What is typed for a measurement.

/** Characters typed into readings, formulas, steps and prose all over the note, each deleted by the next edit. */
export function keystrokes(text, count) {
  const lines = text.split("\n");
  const places = lines.flatMap((line, index) =>
    index > 10 && line.length > 6 && !line.startsWith("```") ? [index] : [],
  );
  const edits = [];
  for (let i = 0; edits.length < count; i++) {
    // A step that shares no factor with the number of places visits them all.
    const line = places[(i * 7919) % places.length];
    const character = lines[line].length - 2;
    const start = { line, character };
    edits.push({ range: { start, end: start }, text: "3" });
    edits.push({ range: { start, end: { line, character: character + 1 } }, text: "" });
  }
  return edits.slice(0, count);
}
