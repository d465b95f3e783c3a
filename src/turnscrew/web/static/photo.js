"use strict";
// A tap on the photo fills the numbers of the form last touched; typing them will do too.
(() => {
  const picture = document.getElementById("picture");
  if (!picture) return;
  const named = (id) => document.getElementById(id);
  const corners = [["mask-left", "mask-top"], ["mask-right", "mask-bottom"]];
  const ends = [["mark-x", "mark-y"], ["mark-to_x", "mark-to_y"]];
  let wanted = ends;
  let turn = 0;
  document.addEventListener("focusin", (event) => {
    const form = event.target.closest("form");
    if (!form || !form.querySelector("#mask-left, #mark-x")) return;
    const now = form.querySelector("#mask-left") ? corners : ends;
    if (now !== wanted) [wanted, turn] = [now, 0];
  });
  picture.addEventListener("click", (event) => {
    const box = picture.getBoundingClientRect();
    const share = (at, from, size) =>
      Math.min(100, Math.max(0, ((at - from) * 100) / size)).toFixed(1);
    const [x, y] = wanted[turn];
    named(x).value = share(event.clientX, box.left, box.width);
    named(y).value = share(event.clientY, box.top, box.height);
    turn = 1 - turn;
  });
})();
