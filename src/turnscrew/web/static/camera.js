"use strict";
// The page follows the bench to another device, unless a photo waits on it to be kept.
(() => {
  const EVERY_MS = 4000;
  const deviceOf = (page) => page.querySelector("main").dataset.device;
  const isTaken = () => document.getElementById("photo")?.files.length > 0;

  async function follow() {
    if (document.hidden || isTaken()) return;
    const answer = await fetch(location.href, { cache: "no-store" }).catch(() => null);
    if (!answer?.ok) return;
    const fresh = new DOMParser().parseFromString(await answer.text(), "text/html");
    if (deviceOf(fresh) !== deviceOf(document) && !isTaken()) location.replace(location.href);
  }

  setInterval(follow, EVERY_MS);
  document.addEventListener("visibilitychange", follow);
})();
