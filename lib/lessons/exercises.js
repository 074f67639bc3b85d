// Makes the fields and buttons of every exercise of the page, and listens for them, also for those a cell adds later; whoever adds
// one calls again. What is said comes from judgeSpelled, above.
document.documentElement.classList.add("js");

function exerciseOf(form) {
  return JSON.parse(unseal(form.dataset.sealed));
}

function made(name, attributes, ...inside) {
  const element = document.createElement(name);
  for (const key of Object.keys(attributes)) element.setAttribute(key, attributes[key]);
  element.append(...inside);
  return element;
}

const button = (words, attributes) => made("button", { type: "button", ...attributes }, words);

// A choice is tapped or typed; each tap fills the field and checks it.
function fill(form) {
  const { choices, unit = "" } = exerciseOf(form);
  const field = { type: "text", name: "answer", autocomplete: "off" };
  const input = made("input", choices ? field : { ...field, inputmode: "decimal" });
  if (choices) {
    const picks = choices.flatMap((choice) => [button(choice, { "data-pick": choice }), "\n"]);
    form.append(made("p", { class: "picks" }, ...picks));
  }
  form.append(
    made("label", {}, "Your answer", made("span", {}, input, unit && ` ${unit}`)),
    " ",
    made("button", { type: "submit" }, "Check"),
    made("p", { class: "result", role: "status" }),
  );
  const acts = form.closest(".exercise").querySelector(".acts:empty");
  if (acts === null) return;
  const hint = (words, n) => button(words, { class: "act", "data-hint": n });
  acts.append(hint("A hint", 0), "\n", hint("Another", 1));
}

function fillAll() {
  for (const form of document.querySelectorAll("form[data-exercise]:empty")) fill(form);
}
globalThis.firstMirrorExercises = fillAll;
fillAll();
if (document.readyState === "loading") document.addEventListener("DOMContentLoaded", fillAll);

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
