"use strict";
// Keeps the strokes of a signature as numbers in a hidden field; a typed name will do too.
(() => {
  const canvas = document.getElementById("signature");
  if (!canvas) return;
  const into = document.getElementById(canvas.dataset.into);
  const pen = canvas.getContext("2d");
  const strokes = [];
  let stroke = null;
  const place = (event) => {
    const box = canvas.getBoundingClientRect();
    return [
      Math.round(((event.clientX - box.left) * canvas.width) / box.width),
      Math.round(((event.clientY - box.top) * canvas.height) / box.height),
    ];
  };
  canvas.addEventListener("pointerdown", (event) => {
    canvas.setPointerCapture(event.pointerId);
    stroke = [place(event)];
    strokes.push(stroke);
  });
  canvas.addEventListener("pointermove", (event) => {
    if (!stroke) return;
    const [x, y] = place(event);
    const [a, b] = stroke[stroke.length - 1];
    pen.beginPath();
    pen.moveTo(a, b);
    pen.lineTo(x, y);
    pen.stroke();
    stroke.push([x, y]);
  });
  canvas.addEventListener("pointerup", () => {
    stroke = null;
    into.value = JSON.stringify(strokes);
  });
})();
