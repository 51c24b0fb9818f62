"use strict";
/* Names are offered while one types. Without this file everything works: a name
   that is only nearly right is asked about after sending. */
(() => {
  const wait = 150;
  const offer = (field, list, names) => {
    list.replaceChildren(...names.map((name) => {
      const option = document.createElement("option");
      option.value = name;
      return option;
    }));
  };
  const ask = async (field, list) => {
    const text = field.value.trim();
    if (text.length < 2) return offer(field, list, []);
    const answer = await fetch(field.dataset.suggest + "?text=" + encodeURIComponent(text));
    if (answer.ok && field.value.trim() === text) offer(field, list, await answer.json());
  };
  for (const field of document.querySelectorAll("input[data-suggest]")) {
    const list = document.createElement("datalist");
    list.id = field.id + "-names";
    field.after(list);
    field.setAttribute("list", list.id);
    let timer;
    field.addEventListener("input", () => {
      clearTimeout(timer);
      timer = setTimeout(() => ask(field, list).catch(() => {}), wait);
    });
  }
  /* What is picked is written beside it. */
  for (const picker of document.querySelectorAll("input[type=color]")) {
    const text = document.getElementById(picker.dataset.for);
    picker.addEventListener("input", () => { text.value = picker.value; });
  }
  /* The counter: what is scanned anywhere lands in its field, in the place of what
     stands there. */
  const scan = document.querySelector("[data-scan]");
  const take = () => { scan.focus(); scan.select(); };
  if (scan) {
    scan.value = scan.dataset.scan;
    take();
    document.addEventListener("keydown", (press) => {
      const at = document.activeElement;
      if (at === scan || at.matches("input, textarea")) return;
      if (press.ctrlKey || press.altKey || press.metaKey || press.key.length !== 1) return;
      if (press.key === " " || (at.matches("select") && !/\d/.test(press.key))) return;
      take();
    });
    return;
  }
  const faults = document.querySelector(".faults");
  if (faults) return faults.focus();
  const told = document.querySelector(".told");
  if (told) told.focus();
})();
