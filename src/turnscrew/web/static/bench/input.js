// One key, one foot, one card, one finger: all give the same commands.

import { settings } from "./keep.js";

const SCAN_GAP_MS = 90;
const SHORTEST_SCAN = 3;
const NUMBER = /^-?\d{1,6}([.,]\d{0,4})?$/;
const SLOWEST_TYPING_MS = 1500;
const NAMED = { ArrowRight: "Arrow right", ArrowUp: "Arrow up", Delete: "Delete" };

export class Input {
  constructor(commands, heard) {
    this.heard = heard;
    this.codes = new Map(commands.map((one) => [one.code, nameOf(one.code)]));
    this.keys = new Map(commands.map((one) => [one.key, nameOf(one.code)]));
    this.typed = "";
    this.line = "";
    this.lastAt = -1e9;
    this.takesNumbers = () => false;
    this.isDevice = () => false;
    this.question = () => null;
    this.isAnswering = false;
    addEventListener("keydown", (event) => this.press(event));
  }

  press(event) {
    if (event.target.matches?.("input, select, textarea")) return;
    if (event.ctrlKey || event.altKey || event.metaKey) return;
    // A key that is held down, or a glove that rests on one, is one press.
    if (event.repeat) {
      event.preventDefault();
      return;
    }
    const pedal = settings().pedals?.[event.code];
    if (pedal) return this.take(event, pedal);
    if (event.key === "Enter") return this.enter(event);
    if (event.key === "Backspace")
      return this.take(event, event.shiftKey ? "burst" : "undo");
    if (event.key === "Escape") return this.take(event, "home");
    if (event.key === " " && !this.typed) return this.take(event, "done");
    const named = this.keys.get(NAMED[event.key]);
    if (named) return this.take(event, named);
    if (event.key.length !== 1) return;
    event.preventDefault();
    if (event.timeStamp - this.lastAt > SLOWEST_TYPING_MS) {
      this.line = "";
      this.isAnswering = false;
    }
    this.line += event.key;
    this.lastAt = event.timeStamp;
    // A scanner types faster than any hand; a lone key is a command of its own.
    this.typed += event.key;
    clearTimeout(this.wait);
    this.wait = setTimeout(() => {
      const typed = this.typed;
      this.typed = "";
      if (typed.length < SHORTEST_SCAN) for (const one of typed) this.key(one);
    }, SCAN_GAP_MS);
  }

  // Enter behind any text ends that text; it is Done only when it comes alone.
  enter(event) {
    event.preventDefault();
    const isFresh = event.timeStamp - this.lastAt <= SLOWEST_TYPING_MS;
    const pending = this.typed;
    const whole = isFresh ? this.line : "";
    // What came as fast as a scanner types stands alone; but a scanner may falter, and
    // then all that was typed is a text that is known.
    const isFast = pending.length >= SHORTEST_SCAN && !(this.knows(codeIn(whole)) && !this.knows(codeIn(pending)));
    // Keys that led from question to question were heard; they are no text as well.
    const isHeard = this.isAnswering && !this.knows(codeIn(whole));
    const line = isFast || isHeard ? pending : whole;
    this.clear();
    // Where a number is wanted, figures are one, unless a device here is called so.
    const isNumber = this.takesNumbers() && NUMBER.test(line) && !this.knows(codeIn(line));
    // Keys before it were heard by themselves; what is left may be figures or nothing.
    const isRest = this.takesNumbers() && (!pending || NUMBER.test(pending));
    if (line.length >= SHORTEST_SCAN && !isNumber) this.scan(line);
    else if (line && !isNumber && !isRest) this.heard({ name: "unknown", text: line });
    else {
      for (const one of pending) this.key(one);
      this.heard({ name: "done", key: "Enter" });
    }
  }

  take(event, name) {
    event.preventDefault();
    this.clear();
    this.heard({ name });
  }

  clear() {
    clearTimeout(this.wait);
    this.typed = "";
    this.line = "";
    this.isAnswering = false;
  }

  key(character) {
    const upper = character.toUpperCase();
    const isShifted = upper !== character.toLowerCase() && character === upper;
    // A decimal sign is taken as any language has it.
    const name = this.keys.get(isShifted ? `Shift+${upper}` : upper.replace(",", "."));
    const asked = this.question();
    if (name) this.heard({ name });
    // A reading may be below zero; the sign is on every keyboard and needs no card.
    else if (character === "-") this.heard({ name: "minus" });
    const asks = this.question();
    if (asks && asks !== asked) this.isAnswering = true;
  }

  knows(code) {
    return this.codes.has(code) || code.startsWith("TS-WHO-") || this.isDevice(code);
  }

  scan(text) {
    const code = codeIn(text);
    const name = this.codes.get(code);
    if (name) this.heard({ name, isScan: true });
    else if (code.startsWith("TS-WHO-"))
      this.heard({ name: "who", who: code.slice(7).toLowerCase() });
    else this.heard({ name: "device", code });
  }
}

function codeIn(text) {
  return text.trim().replace(/^\*|\*$/g, "").toUpperCase();
}

export function nameOf(code) {
  return code.replace(/^TS-/, "").toLowerCase();
}
