// Guesses and fields of the page. What is said comes from guessed, howWell and withTrial, above.
const kept = new Map();
const account = document.querySelector("[data-guesses]");

// Whoever keeps the page's work is told.
function keep(key, value) {
  const detail = { kind: "guess", key, value };
  document.dispatchEvent(new CustomEvent("first-mirror:keep", { detail }));
}

function place(kind, n) {
  return document.querySelector("[data-" + kind + '="' + n + '"]');
}

// What a guess folds: the cell's result, and whatever tells it.
function fold(n, isFolded) {
  const told = document.querySelectorAll(
    '[data-output-of="' + n + '"],[data-after-guess="' + n + '"]',
  );
  for (const element of told) element.hidden = isFolded;
  place("guess", n).hidden = !isFolded;
}

function tellHowWell() {
  if (account === null) return;
  account.textContent = howWell([...kept.values()], Number(account.dataset.guesses));
}

function tell(n, words, byReader) {
  const said = guessed(JSON.parse(place("guess", n).dataset.about), words);
  const line = place("guess-kept", n), again = document.createElement("button");
  again.type = "button";
  again.className = "act";
  again.textContent = "Guess again";
  again.dataset.guessAgain = n;
  line.replaceChildren(said.say + " ", again);
  line.hidden = false;
  kept.set(n, said);
  fold(n, false);
  tellHowWell();
  if (!byReader) return;
  line.focus();
  keep(n, words);
}

function guess(form) {
  const field = form.elements.guess;
  if (field.value.trim() === "") {
    field.setAttribute("aria-invalid", "true");
    field.focus();
    return;
  }
  field.removeAttribute("aria-invalid");
  tell(form.dataset.guess, field.value, true);
}

// The cell itself writes and runs, now or as soon as the page's library is there; then what lies between it and the field.
async function tryOut(form) {
  const out = form.querySelector(".result"), { name, unit, upTo } = form.dataset;
  const typed = form.elements.value.value;
  const detail = { change: (source) => withTrial(source, name, typed, unit), ran: undefined };
  out.textContent = "";
  place("cell", form.dataset.try).dispatchEvent(
    new CustomEvent("first-mirror:write", { detail }),
  );
  const ran = await detail.ran;
  if (ran === undefined) out.textContent = "Such a value cannot stand there.";
  else if (upTo !== undefined) await globalThis.firstMirror.run(Number(upTo));
}

document.addEventListener("submit", (event) => {
  const form = event.target;
  if (!form.matches("form[data-guess], form[data-try]")) return;
  event.preventDefault();
  if (form.dataset.guess !== undefined) guess(form);
  else tryOut(form);
});

document.addEventListener("click", (event) => {
  const button = event.target.closest ? event.target.closest("button") : null;
  if (button === null) return;
  const form = button.closest("form[data-guess]");
  if (form !== null && button.dataset.pick !== undefined) {
    form.elements.guess.value = button.dataset.pick;
    guess(form);
  } else if (form !== null && button.dataset.showMe !== undefined) {
    fold(form.dataset.guess, false);
    (place("output-of", form.dataset.guess) || form).scrollIntoView({ block: "nearest" });
  } else if (button.dataset.guessAgain !== undefined) {
    const n = button.dataset.guessAgain;
    place("guess-kept", n).hidden = true;
    kept.delete(n);
    fold(n, true);
    tellHowWell();
    keep(n, undefined);
    place("guess", n).elements.guess.focus();
  }
});

// A cell that is run before its guess keeps its result folded: the form says so.
document.addEventListener("first-mirror:cell", ({ detail }) => {
  const form = place("guess", detail.cell);
  if (form === null || form.hidden || detail.state !== "done") return;
  form.dataset.ran = "";
});

// What was kept is put back as if it had been typed, but never over what is being typed.
document.addEventListener("first-mirror:put-back", ({ detail }) => {
  if (detail.kind !== "guess") return;
  const form = place("guess", detail.key);
  if (form === null || !form.hidden && form.elements.guess.value !== "") return;
  form.elements.guess.value = detail.value;
  tell(detail.key, detail.value, false);
});

tellHowWell();
