// Which shade was chosen last? Before anything is drawn, so that nothing flashes.
document.body.dataset.theme = localStorage.getItem("theme") || "auto";
