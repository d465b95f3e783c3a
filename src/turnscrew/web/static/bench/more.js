// What is told beside the line in hand: another way, another fault, a break, a test.

import { SKIP_REASONS, UNDESCRIBED, UNTESTED_REASONS } from "./ask.js";
import * as sound from "./sound.js";

export const REFUSED_A_PAGE = 4;
const WAITS = {
  no: "The customer said no.",
  answer: "The customer has not answered yet.",
  price: "No price is known yet: ask the lead.",
};

export const WithMore = (Base) => class extends Base {
  more(job, run, line) {
    const name = line ? line.name : "";
    const isJoint = line && ["undo", "lift", "aside"].includes(line.does);
    const options = [
      ...(isJoint ? [{ says: "Will not come", value: "stuck" }, { says: "Must stay", value: "stays" }] : []),
      { says: "Second fault found", value: "fault" },
      { says: "Another revision", value: "revision" },
      { says: "Close it up as it is", value: "close" },
      ...(!line && run.stays.length ? [{ says: "It came after all", value: "comes" }] : []),
      { says: "Park it, covered", value: "park" },
      ...(line && !line.moves && !isJoint && line.asks !== "close" ? [{ says: "Skip this, with a reason", value: "skip" }] : []),
      ...(line?.asks === "test" ? [{ says: "Not possible", value: "not possible" }, { says: "Not applicable", value: "not applicable" }] : []),
      ...(line ? [{ says: "More to know", value: "next" }, { says: "I had to ask", value: "asked" }] : []),
      { says: "Photo by phone", value: "photo" },
      { says: "Home", value: "home" },
    ];
    this.question("More", options, (value) => this.moreChoice(value, job, run, line, name));
  }

  moreChoice(value, job, run, line, name) {
    const anew = (body) => this.anew(job, body);
    switch (value) {
      case "stuck": return anew({ why: `${name} will not come`, stays: [name] });
      case "comes": return anew({ why: `${run.stays.join(", ")} came after all`, comes: run.stays });
      case "stays": return anew({ why: `${name} must stay`, stays: [name] });
      case "fault": return this.secondFault(job);
      case "revision":
        return this.revision(job);
      case "close": return anew({ why: "closed up as it is", is_closing: true });
      case "park": return this.park(job);
      case "photo": return this.joinCamera();
      case "home": return this.goHome();
      case "next": return this.readAgain(line);
      case "asked": return this.tell(job, run, { act: "differs", line: line.number, facts: { what: "asked" } });
      case "skip":
        return this.reason(SKIP_REASONS, (reason) =>
          this.tell(job, run, { act: "skip", line: line.number, facts: { reason } }));
      default:
        return this.reason(UNTESTED_REASONS, (reason) =>
          this.tell(job, run, { act: "answer", line: line.number, facts: { answer: value, reason } }));
    }
  }

  revision(job) {
    const known = job.revisions.map((one) => ({ says: one, value: one }));
    this.question("Which revision is it?", [...known, { says: "None of these", value: "" }], (revision) => {
      if (revision) return this.anew(job, { why: `revision ${revision} seen inside`, revision });
      return this.question("What is different?", UNDESCRIBED.map((one) => ({ says: one, value: one })),
        (why) => this.anew(job, { why: `revision not described: ${why}`, is_undescribed: true }));
    });
  }

  secondFault(job, found = "") {
    const way = (one) => this.anew(job, { why: `also found: ${one.says}`, code: one.code });
    const known = job.codes.find((one) => one.code === found);
    if (known) return way(known);
    return this.question("Which fault?", job.codes.map((one) => ({ says: `${one.code} ${one.says}`, value: one })), way);
  }

  // More is wrong than was agreed: nothing goes on before somebody has said yes.
  stopAndAsk(job, asks) {
    this.question(`${asks.says}.`, [
      { says: "Stop, cover it, and ask", value: "stop" },
      { says: "Close it up as it is", value: "close" },
    ], async (value) => {
      if (value === "close") return this.anew(job, { why: "closed up as it is", is_closing: true });
      const told = await this.request(`jobs/${job.ref}/stop/`, {});
      if (!told) return undefined;
      sound.done();
      this.told = "Asked. A photo of what was found helps whoever answers.";
      return this.joinCamera();
    });
  }

  // A device that stands open and waits: closing it up is always possible.
  waiting(job) {
    this.question(WAITS[job.waits_for], [
      { says: "Close it up as it is", value: "close" },
      { says: "Leave it covered", value: "leave" },
    ], (value) => (value === "close" ? this.take(job, "begin", { is_closing: true }) : this.goHome()));
  }

  async anew(job, body) {
    const told = await this.request(`jobs/${job.ref}/anew/`, body);
    if (!told) return undefined;
    if (told.asks) return this.stopAndAsk(job, told.asks);
    sound.done();
    this.told = "A new path from how it lies; everything done still counts.";
    return this.open("work");
  }

  async park(job) {
    this.reason(["part still to come", "answer awaited", "end of the day", "handed over"], async (reason) => {
      const told = await this.request(`jobs/${job.ref}/park/`, { reason });
      if (told) this.goHome();
    });
  }

  // What is covered next is shown once more, or somebody signs for having looked.
  withPhoto(job, line, then) {
    const photo = this.photoOf(job, line);
    if (photo) return then({ photo });
    const { people, person } = this.sender.state;
    const mine = people.find((one) => one.ref === person?.ref);
    return this.question("A photo before it is covered?", [
      { says: "Take it by phone", value: "phone" },
      { says: `Not possible: signed ${mine?.key || "myself"}`, value: "signed" },
    ], (value) => (value === "phone" ? this.joinCamera() : then({ signed: true })));
  }

  async joinCamera() {
    const told = await this.request(`join/?bench=${encodeURIComponent(this.settings.bench || "")}`);
    if (!told?.svg) return;
    this.camera = told;
    this.open("camera");
  }

  in_camera() {
    return this.open(this.chosen ? "work" : "home");
  }

  async in_refused(command) {
    if (command.name === "yes") return this.tellAgain();
    if (command.name === "done") await this.sender.forgetRefused(REFUSED_A_PAGE);
    return this.sender.refused.length ? this.draw() : this.goHome();
  }

  // What still does not fit stays refused, with the reason that holds now.
  async tellAgain() {
    for (const one of this.sender.refused.filter((told) => this.sender.isMine(told))) {
      const wrong = this.whyNotAgain(one);
      if (wrong) one.against = wrong;
      else await this.sender.tellAgain(one);
    }
    await this.sender.turn();
    return this.sender.refused.length ? this.draw() : this.goHome();
  }

  whyNotAgain(stroke) {
    const job = this.sender.jobOf(stroke);
    const run = this.run(job);
    if (!run) return "path: found an older one, wanted the newest of the device";
    if (job.run.kind === "recording") return "";
    return this.refusalOf(job, run, stroke);
  }

  async in_accounts(command) {
    if (!["yes", "no"].includes(command.name)) return this.refuse("found something else, wanted which one holds");
    const job = this.job();
    const told = await this.request(`jobs/${job.ref}/settle/`, { is_theirs: command.name === "no" });
    // What was refused stays on the page with its reason.
    return told ? this.choose(job.ref) : undefined;
  }

  // --- finding the fault -----------------------------------------------------------

  async diagnose(job) {
    const told = await this.request(`jobs/${job.ref}/diagnosis/`);
    if (!told) return;
    this.subject = job;
    this.diagnosis = told;
    this.open("diagnosis");
  }

  in_diagnosis(command) {
    const job = this.subject;
    const next = this.diagnosis.next;
    if (command.name === "fault")
      return this.question("Which fault is confirmed?",
        job.codes.map((one) => ({ says: `${one.code} ${one.says}`, value: one })),
        (one) => this.answerTest(job, one.code, "confirmed"));
    if (["more", "stuck"].includes(command.name) && next.without.length)
      return this.question("Why is there no answer?",
        next.without.map((one) => ({ says: one, value: one })),
        (answer) => this.answerTest(job, next.name, answer));
    const isFigure = next.unit && (/^\d$/.test(command.name) || (command.name === "minus" && next.is_signed));
    if (command.name !== "done" && !isFigure) return this.refuse("found something else, wanted an answer");
    if (next.unit)
      return this.number(`${next.says}:`, next.unit, (value) => this.answerTest(job, next.name, `${value} ${next.unit}`),
        { start: isFigure ? command.name.replace("minus", "-") : "", signed: next.is_signed });
    return this.question(next.says, next.answers.map((one) => ({ says: one, value: one })),
      (answer) => this.answerTest(job, next.name, answer));
  }

  async answerTest(job, test, answer) {
    const told = await this.request(`jobs/${job.ref}/diagnosis/`, { test, answer });
    if (!told) return;
    this.diagnosis = told;
    this.told = `${test}: ${answer}`;
    sound.done();
    this.open("diagnosis");
  }
};
