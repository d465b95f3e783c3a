// Done, refused and wrong device sound different; words are an extra.

import { settings } from "./keep.js";
import { allOf } from "./words.js";

let speaker = null;

function tones(list) {
  if (settings().isQuiet) return;
  try {
    speaker ||= new AudioContext();
    let at = speaker.currentTime;
    for (const [hz, seconds, shape] of list) {
      const tone = speaker.createOscillator();
      const level = speaker.createGain();
      tone.type = shape || "sine";
      tone.frequency.value = hz;
      level.gain.setValueAtTime(0.15, at);
      level.gain.exponentialRampToValueAtTime(0.001, at + seconds);
      tone.connect(level).connect(speaker.destination);
      tone.start(at);
      tone.stop(at + seconds);
      at += seconds;
    }
  } catch {
    speaker = null;
  }
}

export const done = () => tones([[880, 0.08]]);
export const undone = () => tones([[660, 0.06], [440, 0.08]]);
export const refused = () => tones([[196, 0.14, "square"], [196, 0.18, "square"]]);
export const wrongDevice = () =>
  tones([[523, 0.1, "triangle"], [330, 0.1, "triangle"], [523, 0.1, "triangle"], [330, 0.2, "triangle"]]);

export function say(words) {
  if (!settings().isSpoken || !window.speechSynthesis) return;
  speechSynthesis.cancel();
  const spoken = new SpeechSynthesisUtterance(allOf([words].flat()));
  spoken.lang = document.documentElement.lang;
  speechSynthesis.speak(spoken);
}
