import { type Html, html } from "./html.ts";

/** Lines to sign on, with the name where the note tells it. */
export function signatures(people: readonly (readonly [role: string, name: string | undefined])[]): Html {
  return html`<section class="wm-signatures" aria-label="Signatures">${people.map(
    ([role, name]) =>
      html`<div><span class="wm-line"></span><p>${role}${name && html`: ${name}`}</p><p class="wm-date">Date</p></div>`,
  )}</section>`;
}
