// What becomes of a press while the opening of an unknown model is recorded.

import { DRIVES, JOINTS, lastJoint, nameFor, PARTS, questionsOf, recordsOf, stillKnown } from "./recording.js";
import * as sound from "./sound.js";

const NO_PIECES = "pieces: found no joint told last, wanted one to count pieces of";

export const WithRecording = (Base) => class extends Base {
  in_recording(command) {
    const job = this.job();
    const records = recordsOf(this.strokes(job));
    const last = records[records.length - 1];
    const name = command.name;
    if (name === "undo") return this.undoRecord(job);
    if (name.startsWith("j-")) return this.recordKind(job, records, "joint", name.slice(2));
    if (name.startsWith("p-")) return this.recordKind(job, records, "part", name.slice(2));
    if (name === "turn") return this.record(job, records, "turn", "turn");
    if (name === "photo") return this.joinCamera();
    if (name === "more" || name === "stuck") return this.recordMore(job, records);
    const known = stillKnown(this.run(job), records);
    if (name === "done" && known.length) return this.recordKnown(job, known[0]);
    if (!last) return this.refuse("record: found none yet, wanted what it was: More");
    if (name === "3more") return this.morePieces(job, last, 3);
    if (name === "done") {
      const like = lastJoint(records);
      if (!like) return this.refuse("record: found no joint yet, wanted its kind: More");
      return this.record(job, records, "joint", like.kind, like);
    }
    return this.refuse(`found ${name}, wanted Done, Undo, three more, or a kind`);
  }

  // Of a model recorded before, a kind may mean one of those that are known.
  recordKind(job, records, removal, kind) {
    const known = stillKnown(this.run(job), records)
      .filter((one) => one.removal === removal && one.kind === kind);
    if (!known.length) return this.record(job, records, removal, kind);
    return this.question("Which one?", [
      ...known.map((one) => ({ says: one.name, value: one })), { says: "another one", value: null },
    ], (one) => (one ? this.recordKnown(job, one) : this.record(job, records, removal, kind)));
  }

  async recordKnown(job, known) {
    const { name, removal, kind, n } = known;
    const facts = { removal, kind, name };
    const isCounted = (this.run(job).doubts || []).some((one) => one.of === name && one.fact === "n");
    if (removal === "joint" && !isCounted) facts.n = n;
    await this.store(job, { act: "record", line: this.strokes(job).length, facts });
    return this.askAll(job, { ...facts, n }, questionsOf(this.run(job), facts));
  }

  recordMore(job, records) {
    const kinds = (list, removal) => this.question(removal === "joint" ? "What joint?" : "What came off?",
      list.map((kind) => ({ says: kind, value: kind })),
      (kind) => this.recordKind(job, records, removal, kind));
    this.question("What was it?", [
      { says: "A joint", value: "joint" }, { says: "A part came off", value: "part" },
      { says: "Turned it over", value: "turn" },
      { says: "One more piece of the last", value: "one" },
      { says: "Count of the last", value: "count" },
      { says: "All the way in: put back", value: "back" },
      { says: "Photo by phone", value: "photo" }, { says: "Home", value: "home" },
    ], (value) => {
      const last = records[records.length - 1];
      if (value === "joint") return kinds(JOINTS, "joint");
      if (value === "part") return kinds(PARTS, "part");
      if (value === "turn") return this.record(job, records, "turn", "turn");
      if (value === "one" && last) return this.morePieces(job, last, 1);
      if (value === "count" && last?.removal === "joint")
        return this.number("How many in all?", "", (n) => this.amend(job, last, { n: Number(n) }),
          { whole: true, least: 1, most: 500 });
      if (value === "count") return this.refuse(NO_PIECES);
      if (value === "back") return this.turnRound(job);
      if (value === "photo") return this.joinCamera();
      return this.goHome();
    });
  }

  async record(job, records, removal, kind, like = null) {
    const facts = { removal, kind, name: nameFor(this.run(job), records, removal, kind), n: 1 };
    if (like && removal === "joint")
      for (const fact of ["length_mm", "drive"]) if (like[fact] !== undefined) facts[fact] = like[fact];
    await this.store(job, { act: "record", line: this.strokes(job).length, facts });
    // Like the last one means that what nobody measured there is not asked again.
    return this.askAll(job, facts, like || removal === "turn" ? [] : questionsOf(this.run(job), facts));
  }

  // One question after the other; what is not known is left open.
  askAll(job, record, questions) {
    const [first, ...rest] = questions;
    if (!first) return this.draw();
    const then = async (facts) => {
      if (facts) await this.amend(job, record, facts);
      return this.askAll(job, record, rest);
    };
    if (first.kind === "length_mm")
      return this.number(first.asks, "mm", (value) => then(value ? { length_mm: value } : null), { empty: true, least: 0.5, most: 60, usual: first.usual || "" });
    if (first.kind === "drive") {
      // What it was last time comes first, and Done confirms it.
      const others = DRIVES.filter((one) => one !== first.usual).map((one) => ({ says: one, value: one }));
      const again = first.usual ? [{ says: "Yes", value: first.usual }] : [];
      this.question(first.asks, [...again, ...others, { says: "not seen", value: "" }],
        (value) => then(value ? { drive: value } : null));
      this.ask.usual = first.usual;
      return undefined;
    }
    if (first.kind === "count") {
      this.question(first.asks, [{ says: "Yes", value: true }, { says: "No", value: false }], (isSame) =>
        isSame ? then({ n: record.n })
          : this.number("How many?", "", (n) => then({ n: Number(n) }), { whole: true, least: 1, most: 500 }));
      this.ask.usual = Boolean(first.usual);
      return undefined;
    }
    return this.question(first.asks, [{ says: "No", value: "no" }, { says: "Yes", value: "yes" }],
      (value) => then({ [first.fact]: value }));
  }

  // A part or a turn is one thing; only joints have pieces.
  morePieces(job, last, more) {
    return last.removal === "joint" ? this.amend(job, last, { more }) : this.refuse(NO_PIECES);
  }

  async amend(job, record, facts) {
    this.ask = null;
    await this.store(job, { act: "record", line: this.strokes(job).length, facts: { of: record.name, ...facts } });
    this.draw();
  }

  async undoRecord(job) {
    const strokes = this.strokes(job);
    if (!recordsOf(strokes).length) return this.refuse("undo: found nothing recorded");
    return this.store(job, { act: "undo", line: strokes.length }, sound.undone);
  }

  async turnRound(job) {
    const told = await this.request(`jobs/${job.ref}/turn-round/`, {});
    if (told) this.open("work");
  }
};
