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
  const faults = document.querySelector(".faults");
  if (faults) faults.focus();
})();
