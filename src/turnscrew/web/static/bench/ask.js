// Questions with at most four answers on a screen, and numbers by a large keypad.

import { h } from "./draw.js";
import { asIs, inFigures, inWords, pointSign } from "./words.js";

export const SKIP_REASONS = ["part still to come", "cannot be reached", "customer's wish", "the lead said so"];
export const UNTESTED_REASONS = ["locked by the customer", "nothing here to test it with", "shown by another test", "the lead said so"];

export const UNDESCRIBED = ["another board", "another connector", "other fasteners", "another part", "put together otherwise"];

const PAGE = 3; // the fourth key turns the page

export class Choice {
  constructor(title, options, chosen, back, beside = null) {
    Object.assign(this, { title, options, chosen, back, beside, page: 0 });
  }

  shown() {
    if (this.options.length <= 4) return this.options;
    const start = this.page * PAGE;
    return this.options.slice(start, start + PAGE);
  }

  keys() {
    const keys = this.shown().map((one, index) => ({
      label: [`${index + 1}  `, one.says], hint: String(index + 1), name: String(index + 1),
      do: () => this.chosen(one.value),
    }));
    if (this.options.length > 4)
      keys.push({ label: ["4  ", "more"], hint: "4", name: "4", do: () => this.turn() });
    return keys;
  }

  turn() {
    const pages = Math.ceil(this.options.length / PAGE);
    this.page = (this.page + 1) % pages;
    this.changed();
  }

  draw() {
    return h("div", { class: "text" },
      h("p", { class: "working" }, this.title),
      h("p", { class: "why" }, "Press the number, or Undo to go back."));
  }

  hear(command) {
    if (command.name === "undo" || command.name === "home") return this.back();
    if (["done", "yes"].includes(command.name) && this.usual) return this.chosen(this.usual);
    const key = this.keys().find((one) => one.name === command.name);
    if (key) return key.do();
    if (command.name === "next" && this.options.length > 4) return this.turn();
    return "choose: found something else, wanted one of the numbers";
  }
}

export class Keypad {
  constructor(title, unit, chosen, back, { start = "", usual = "", whole = false, empty = false, signed = false, least = -Infinity, most = Infinity } = {}) {
    Object.assign(this, { title, unit, chosen, back, whole, empty, signed, least, most });
    this.typed = start || usual;
    // What stands there by itself gives way to the first digit typed.
    this.isUsual = Boolean(usual);
  }

  keys() {
    return [
      { label: "Enter", hint: "Enter", name: "done", do: () => this.enter() },
      { label: "Clear", hint: "Undo", name: "undo", do: () => this.hear({ name: "undo" }) },
    ];
  }

  draw() {
    const pad = h("div", { class: "pad" });
    for (const key of ["1", "2", "3", "4", "5", "6", "7", "8", "9", "0", ".", "−"]) {
      if ((key === "." && this.whole) || (key === "−" && !this.signed)) continue;
      const name = { ".": "point", "−": "minus" }[key] || key;
      pad.append(h("button", { type: "button", do: () => { this.hear({ name }); this.changed(); } }, key === "." ? pointSign() : key));
    }
    return h("div", { class: "text with-pad" },
      h("div", {},
        h("p", { class: "working" }, this.title),
        h("p", { class: "number", "aria-live": "polite" }, asIs(`${inFigures(this.typed) || "–"} ${this.unit}`)),
        inWords(this.typed) ? h("p", {}, inWords(this.typed)) : null),
      pad);
  }

  enter() {
    if (!this.typed && !this.empty) return "number: found none, wanted one";
    const value = Number(this.typed);
    if (this.typed && !Number.isFinite(value))
      return `number: found ${this.typed}, wanted a number`;
    if (this.typed && (value < this.least || value > this.most))
      return `number: found ${this.typed}, wanted ${this.least} to ${this.most}`;
    return this.chosen(this.typed);
  }

  hear(command) {
    const before = this.isUsual ? "" : this.typed;
    this.isUsual = this.isUsual && ["done", "enter", "home"].includes(command.name);
    if (/^\d$/.test(command.name)) this.typed = (before + command.name).slice(0, 8);
    else if (command.name === "point" && !this.whole && !this.typed.includes("."))
      this.typed += ".";
    else if (command.name === "minus" && this.signed)
      this.typed = before.startsWith("-") ? before.slice(1) : `-${before}`;
    else if (command.name === "clear") this.typed = "";
    else if (command.name === "undo" || command.name === "home") {
      if (!this.typed || command.name === "home") return this.back();
      this.typed = "";
    } else if (command.name === "done" || command.name === "enter") return this.enter();
    else return "number: found something else, wanted digits and Enter";
    return undefined;
  }
}
