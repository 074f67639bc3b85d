// Listens for every exercise of the page, also for those a cell adds later. What is said comes from judgeSpelled, above.
document.documentElement.classList.add("js");

function exerciseOf(form) {
  return JSON.parse(unseal(form.dataset.sealed));
}

// What a reader typed is kept by whoever keeps the page's work; told only where the reader did it.
function check(form, byReader) {
  const typed = form.elements.answer.value;
  const out = form.querySelector(".result");
  const { is, say } = judgeSpelled(exerciseOf(form), typed);
  if (is === "empty" || is === "unreadable") delete out.dataset.judged;
  else out.dataset.judged = is;
  const words = document.createElement("span");
  words.textContent = say;
  out.replaceChildren(words);
  if (!byReader || is === "empty") return;
  const detail = { kind: "answer", key: form.dataset.exercise, value: typed };
  document.dispatchEvent(new CustomEvent("first-mirror:keep", { detail }));
}

document.addEventListener("submit", (event) => {
  if (!event.target.matches("form[data-exercise]")) return;
  event.preventDefault();
  check(event.target, true);
});

document.addEventListener("click", (event) => {
  const button = event.target.closest ? event.target.closest("button") : null;
  if (button === null) return;
  const form = button.closest(".exercise")?.querySelector("form[data-exercise]");
  if (form && button.dataset.pick !== undefined) {
    form.elements.answer.value = button.dataset.pick;
    form.requestSubmit();
  } else if (form && button.dataset.hint !== undefined) {
    const hint = document.createElement("p");
    hint.textContent = exerciseOf(form).hints[Number(button.dataset.hint)];
    button.replaceWith(hint);
  }
});

// What was kept is put back as if it had been typed, but never over what is being typed.
document.addEventListener("first-mirror:put-back", ({ detail }) => {
  if (detail.kind !== "answer") return;
  for (const form of document.querySelectorAll("form[data-exercise]")) {
    const typed = form.elements.answer.value;
    if (form.dataset.exercise !== detail.key || typed !== "" && typed !== detail.value) continue;
    form.elements.answer.value = detail.value;
    check(form, false);
  }
});
