// How the page reads in the language chosen for it. What is not known in it stays as it
// was written, in quotation marks. The papers follow the same rules; a test holds the
// two together.

const PLACE = /\{(\w+)([#,;.–!]?)\}/g;
const WORD = /[a-z]{3}|\b[A-Z][a-z]{2}\b/;
const POINT = /(\d)\.(?=\d)/g;
const SENTENCE_END = /(?<=[.?!]) +(?=[A-Z0-9])/;
const GLUE = { ",": ", ", ";": "; ", "–": " – " };
const INSIDE = { "#": "[-+]?\\d[\\d.]*", ".": ".+?" };
// No place reaches beyond the end of a sentence, unless it holds sentences.
const WITHIN = "(?:(?![.?!] [A-Z]).)+?";

const withoutStop = (text) => (text.endsWith(".") ? text.slice(0, -1) : text);
const lower = (text) => text.slice(0, 1).toLowerCase() + text.slice(1);
const bare = (text) => lower(withoutStop(text.trim()));
const escaped = (text) => text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
const DATE = /\b(\d{4})-(0[1-9]|1[0-2])-(\d\d)\b/g;
const MONTHS = ["Jan.", "Feb.", "März", "Apr.", "Mai", "Juni", "Juli", "Aug.", "Sept.", "Okt.", "Nov.", "Dez."];
const withComma = (text) => text
  .replace(DATE, (_, year, month, day) => `${Number(day)}. ${MONTHS[month - 1]} ${Number(year)}`)
  .replace(POINT, "$1,");

export class Phrasebook {
  constructor(phrases, marks = ["„", "“"]) {
    this.marks = marks;
    this.kept = new Map();
    this.own = new Map();
    const told = Object.entries(phrases);
    this.exact = new Map(told);
    this.fixed = new Map(told.filter(([text]) => !text.includes("{")).map(([text, words]) => [bare(text), words]));
    const size = (text) => text.replace(PLACE, "").length;
    this.shapes = told.filter(([text]) => text.includes("{"))
      .sort((a, b) => size(b[0]) - size(a[0])).map(shaped);
  }

  // What the descriptions of the devices here say themselves.
  learn(own) {
    for (const [text, words] of Object.entries(own)) this.own.set(bare(text), words);
    this.kept.clear();
  }

  says(text) {
    if (!this.kept.has(text)) this.kept.set(text, this.said(text));
    return this.kept.get(text);
  }

  said(text) {
    if (!WORD.test(text) && !this.fixed.has(bare(text))) return withComma(text);
    const known = this.known(text);
    if (known !== null) return known;
    for (const [parts, glue] of [[text.split(SENTENCE_END), " "], [text.split("; "), "; "]])
      if (parts.length > 1) return parts.map((one) => this.says(one)).join(glue);
    return this.asWritten(text);
  }

  asWritten(text) {
    return this.marks[0] + text + this.marks[1];
  }

  known(text) {
    const key = bare(text);
    // A key and a state may differ by their first letter alone.
    let words = this.own.get(key) ?? this.exact.get(text) ?? this.fixed.get(key) ?? this.byShape(withoutStop(text));
    if (words === null) return null;
    words = withoutStop(words);
    if (text.endsWith(".") && !/[.?!]$/.test(words)) words += ".";
    const isLarge = /^\p{Lu}/u.test(text);
    return isLarge ? words.slice(0, 1).toUpperCase() + words.slice(1) : words;
  }

  byShape(text) {
    const one = this.shapeOf(text);
    if (!one) return null;
    const { groups } = one.shape.exec(text);
    return one.words.replace(PLACE, (_, name) => this.value(groups[name], one.kinds[name]));
  }

  shapeOf(text) {
    const fits = (one) => one.shape.test(text);
    const first = this.shapes.find(fits);
    if (!first?.nAhead) return first;
    // The first word of a name is none of ours: "key" of "key tail (latched)".
    const nNamed = this.nNamed(text);
    if (first.nAhead >= nNamed) return first;
    return this.shapes.find((one) => !(one.nAhead > 0 && one.nAhead < nNamed) && fits(one)) || first;
  }

  // Letters of the longest name that a text begins with.
  nNamed(text) {
    const whole = bare(text);
    const begins = [...this.own.keys()].filter((name) => whole.startsWith(name) &&
      !/^[\p{L}\p{N}]/u.test(whole.slice(name.length)));
    return Math.max(0, ...begins.map((name) => name.length));
  }

  value(value, kind) {
    if (kind === "#" || kind === "!") return withComma(value);
    if (kind === ".") return this.says(value);
    // A name may itself hold what lists are held together with.
    if (kind && (this.own.has(bare(value)) || this.fixed.has(bare(value)))) return this.value(value, "");
    if (kind) return value.split(GLUE[kind]).map((one) => this.value(one, "")).join(GLUE[kind]);
    const counted = /^(.*) × (\d+)$/.exec(value);
    if (counted) return `${this.value(counted[1], "")} × ${counted[2]}`;
    if (!WORD.test(value) && !this.fixed.has(bare(value))) return withComma(value);
    return this.known(value) ?? this.asWritten(value);
  }
}

function shaped([text, words]) {
  const kinds = {};
  let pattern = "";
  let at = 0;
  const whole = withoutStop(text);
  for (const place of whole.matchAll(PLACE)) {
    pattern += escaped(whole.slice(at, place.index));
    kinds[place[1]] = place[2];
    pattern += `(?<${place[1]}>${INSIDE[place[2]] || WITHIN})`;
    at = place.index + place[0].length;
  }
  pattern += escaped(whole.slice(at));
  // What begins small in the book may begin a sentence; names never begin large.
  if (/^\p{Ll}/u.test(whole)) pattern = `[${whole[0]}${whole[0].toUpperCase()}]${pattern.slice(1)}`;
  return { shape: new RegExp(`^${pattern}$`, "u"), words: withoutStop(words), kinds, nAhead: whole.indexOf("{") };
}

// --- the language of this page -------------------------------------------------------

export const LANGUAGES = { en: "English", de: "Deutsch" };
const books = new Map();
let book = null;

export function begin(told) {
  for (const [language, phrases] of Object.entries(told)) books.set(language, new Phrasebook(phrases));
}

export function speakIn(language) {
  book = books.get(language) || null;
  document.documentElement.lang = book ? language : "en";
}

export function learn(own) {
  for (const [language, words] of Object.entries(own || {})) books.get(language)?.learn(words);
}

// --- how the workshop reads figures; what is kept stays as it is -----------------------

let notation = { lengths: "mm", sign: "" };
export const readAs = (told) => { notation = told || notation; };

const NUMBER = "\\d+(?:[.,]\\d+)?";
const LENGTH = new RegExp(`(?<![\\p{L}\\p{N}_.,])(?:(${NUMBER})( x | × | to |–))?(${NUMBER}) mm(?![\\p{L}\\p{N}_²³/])`, "gu");
const UNITS = "mm²|mm|cm|m|in|V|mV|A|mA|W|Wh|Ah|mAh|ohm|megohm|gigohm|Ω|N|Nm|g|kg|s|min|h|°C|MPa|years|months|times|device-years";
const BEFORE_UNIT = `(?=(?:(?: (?:to|bis|and|und|or|oder|x|×) |–)${NUMBER})? (?:(?:${UNITS})(?![\\p{L}\\p{N}_])|%))`;
const POINTED = new RegExp(`(?<![\\p{L}\\p{N}_.,])(\\d+)\\.(\\d+)${BEFORE_UNIT}`, "gu");
const COMMAED = new RegExp(`(?<![\\p{L}\\p{N}_.,])(\\d+),(\\d+)${BEFORE_UNIT}`, "gu");

const usesComma = () => notation.sign === "comma" || (book !== null && !notation.sign);

// 25.4 mm are an inch; two decimals more than the millimetres have, half upwards.
function inches(mm) {
  const [whole, rest = ""] = mm.split(/[.,]/);
  const last = Math.floor((Number(whole + rest) * 2000 + 254) / 508);
  const digits = String(last).padStart(rest.length + 3, "0");
  const at = digits.length - rest.length - 2;
  return `${digits.slice(0, at)}${mm.includes(",") ? "," : "."}${digits.slice(at)}`;
}

export function asRead(text) {
  let told = text;
  if (notation.lengths === "inch")
    told = told.replace(LENGTH, (all, first, between, second) =>
      `${all} (${first ? inches(first) + between : ""}${inches(second)} in)`);
  if (notation.sign === "comma" && !book) told = told.replace(POINTED, "$1,$2");
  if (notation.sign === "point" && book) told = told.replace(COMMAED, "$1.$2");
  return told;
}

export const says = (text) => asRead(book ? book.says(text) : text);
// Numbers are kept with a point, and shown and taken as they are read here.
export const pointSign = () => (usesComma() ? "," : ".");
export const inFigures = (text) => (usesComma() ? withComma(text).replace(/\.$/, ",") : text);
// A number that is being entered, in words, so that nobody takes its sign for another.
export function inWords(typed) {
  const [whole, rest = ""] = typed.split(".");
  const parts = ["", "tenths", "hundredths", "thousandths"][rest.length];
  return parts ? `${whole || 0} whole and ${Number(rest)} ${parts}` : "";
}
// Sentence for sentence, so that one that is not known hides none of the others.
export const allOf = (sentences) => sentences.filter(Boolean).map(says).join(" ");
// Names of people, benches and devices are no words of any language.
export const asIs = (text) => document.createTextNode(text);
