// How one screen is set up: letter size by a card, distance, sounds, pedals.

import { h } from "./draw.js";
import { applySizes, DISTANCES, ID1_MM, pixelsPerMm } from "./fit.js";
import { set } from "./keep.js";
import { LANGUAGES } from "./words.js";

export const WithSetup = (Base) => class extends Base {
  in_setup(command) {
    if (command.name === "done") return this.goHome();
    if (command.name === "1") return this.widen(0.99);
    if (command.name === "2") return this.widen(1.01);
    return this.refuse("found something else, wanted 1, 2 or Done");
  }

  widen(by) {
    set({ pixelsPerMm: pixelsPerMm(this.settings) * by });
    applySizes(this.settings);
    this.draw();
  }

  setup() {
    const mm = pixelsPerMm(this.settings);
    const card = h("div", { class: "card" });
    card.style.width = `${ID1_MM * mm}px`;
    const name = h("input", { id: "name", value: this.settings.bench || "", maxlength: "30", autocomplete: "off" });
    this.named(name);
    const toggle = (key, words) => h("button", { type: "button", "aria-pressed": String(Boolean(this.settings[key])),
      do: () => { set({ [key]: !this.settings[key] }); this.draw(); } }, `${words}: ${this.settings[key] ? "yes" : "no"}`);
    const pedal = (which) => h("button", { type: "button", do: () => this.learnPedal(which) }, `Pedal for ${which}`);
    return {
      band: h("header", { class: "band" }, h("span", {}, "Hold a card of 85.6 mm against the frame"),
        h("span", { class: "stop" }, `${mm.toFixed(2)} px/mm`)),
      body: h("section", { class: "body setup" }, card,
        h("div", { class: "tiles" }, h("label", { for: "name" }, "Bench", name),
          h("button", { type: "button", do: () => this.nextLanguage() }, `Language: ${LANGUAGES[this.language]}`),
          h("button", { type: "button", do: () => this.nextDistance() }, `Read from: ${this.settings.distance || "across"}`),
          toggle("isQuiet", "Quiet"), toggle("isSpoken", "Spoken"), pedal("done"), pedal("undo"),
          h("button", { type: "button", do: () => this.forgetPedals() }, "Forget pedals"))),
      keys: [{ label: "Narrower", name: "1", hint: "1" }, { label: "Wider", name: "2", hint: "2" },
        { label: "Done", name: "done", hint: "Space", isFirst: true }],
    };
  }

  // A bench without a name is named first: the page waits in the field, and keeps what
  // was typed though it is drawn anew meanwhile.
  named(name) {
    const isTyped = document.activeElement?.id === "name" || !this.settings.bench;
    name.addEventListener("input", () => set({ bench: name.value }));
    name.addEventListener("change", () => { set({ bench: name.value.trim() }); this.sender.turn(); });
    name.addEventListener("keydown", (event) => {
      if (event.key !== "Enter") return;
      name.blur();
      this.goHome();
    });
    if (isTyped) requestAnimationFrame(() => {
      name.focus();
      name.setSelectionRange(name.value.length, name.value.length);
    });
  }

  nextLanguage() {
    const all = Object.keys(LANGUAGES);
    set({ language: all[(all.indexOf(this.language) + 1) % all.length] });
    this.draw();
  }

  nextDistance() {
    const all = Object.keys(DISTANCES);
    const now = all.indexOf(this.settings.distance || "across");
    set({ distance: all[(now + 1) % all.length] });
    applySizes(this.settings);
    this.draw();
  }

  // A pedal presses one key; letters and digits are what scanners type.
  learnPedal(which) {
    this.learning?.abort();
    this.learning = new AbortController();
    this.told = `Press the pedal for ${which} now.`;
    this.draw();
    addEventListener("keydown", (event) => {
      event.preventDefault();
      event.stopImmediatePropagation();
      this.learning.abort();
      if (/^(Key|Digit|Numpad|Shift|Control|Alt|Meta|Escape)/.test(event.code))
        return this.refuse(`pedal: found ${event.code}, wanted a key that no scanner types`);
      set({ pedals: { ...this.settings.pedals, [event.code]: which } });
      this.told = `${event.code} is ${which} from now on.`;
      return this.draw();
    }, { capture: true, signal: this.learning.signal });
  }

  forgetPedals() {
    set({ pedals: {} });
    this.told = "No pedal is known any more.";
    this.draw();
  }
};
