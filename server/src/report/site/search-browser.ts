import MiniSearch from "minisearch";
import { type Hit, SEARCH_OPTIONS } from "./search.ts";

/** The little that the search needs of a page; the project is not otherwise one for browsers. */
interface Element {
  textContent: string;
  value: string;
  href: string;
  append(...children: readonly Element[]): void;
  replaceChildren(...children: readonly Element[]): void;
  addEventListener(event: "input" | "submit", listener: (event: { preventDefault(): void }) => void): void;
  focus(): void;
}
declare const document: {
  querySelector(selector: string): Element | null;
  createElement(name: string): Element;
};
declare const location: { readonly search: string };
declare const history: { replaceState(state: null, unused: string, url: string): void };
declare const self: { readonly witnessMarkIndex: string };

const MOST_HITS = 100;

function make(name: string, text: string, ...children: readonly Element[]): Element {
  const element = document.createElement(name);
  element.textContent = text;
  element.append(...children);
  return element;
}

function item({ page, job, subject, says, day }: Hit): Element {
  const link = make("a", subject === "" ? `Job ${job}` : `Job ${job}: ${subject}`);
  link.href = page;
  return make("li", "", link, make("p", day === "" ? says : `${day} · ${says}`));
}

function start(): void {
  const words = document.querySelector("#words");
  const form = document.querySelector("form.search");
  const hits = document.querySelector("#hits");
  const count = document.querySelector("#count");
  if (!words || !form || !hits || !count) return;
  const index = MiniSearch.loadJSON(self.witnessMarkIndex, SEARCH_OPTIONS);

  const show = (): void => {
    const asked = words.value.trim();
    const found = asked === "" ? [] : index.search(asked);
    hits.replaceChildren(...found.slice(0, MOST_HITS).map(({ hit }) => item(hit)));
    const shown = found.length > MOST_HITS ? `; the best ${MOST_HITS} are shown` : "";
    count.textContent =
      asked === "" ? "" : `${found.length} ${found.length === 1 ? "job" : "jobs"} for “${asked}”${shown}`;
  };
  words.value = new URLSearchParams(location.search).get("q") ?? "";
  words.addEventListener("input", show);
  form.addEventListener("submit", (event) => {
    event.preventDefault();
    show();
    // So that going back from a job comes back to what was found.
    history.replaceState(null, "", `?q=${encodeURIComponent(words.value)}`);
  });
  words.focus();
  show();
}

start();
