// What the quick YAML reader asks of single characters.

/** Bits for the characters that decide something. Everything else may stand anywhere in a plain value. */
export const IN_KEY = 1;
export const STARTS_KEY = 2;
export const NO_START = 4;
export const NO_FLOW = 8;
export const CONTROL = 16;

export const kinds = new Uint8Array(128);
const mark = (characters: string, bit: number) => {
  for (const c of characters) {
    const code = c.charCodeAt(0);
    kinds[code] = (kinds[code] ?? 0) | bit;
  }
};
const LETTERS = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ";
mark(`${LETTERS}0123456789_- `, IN_KEY);
mark(LETTERS, STARTS_KEY);
// The indicators of YAML 1.2, and the signs and the dot that may start a number of an uncommon form.
mark("-?:,[]{}#&*!|>'\"%@`~+. ", NO_START);
mark(",[]{}:#'\"", NO_FLOW);
for (let i = 0; i < 32; i++) kinds[i] = CONTROL;
kinds[127] = CONTROL;

/** Beyond ASCII, control characters, line and paragraph separators and the byte order mark are left to the library. */
export const uncommon = (code: number) =>
  code < 0xa1 || code === 0x2028 || code === 0x2029 || code === 0xfeff;
