// Shows what findPlaces finds while the reader types. A classic script: works from disk.
const places = JSON.parse(document.getElementById("places").textContent);
const input = document.getElementById("typed");
const list = document.getElementById("found");
const told = document.getElementById("told");

function item(found) {
  const link = document.createElement("a"), mark = document.createElement("mark");
  link.href = found.place.to;
  link.textContent = found.place.head === found.place.page
    ? found.place.page
    : found.place.page + ": " + found.place.head;
  const words = document.createElement("p"), entry = document.createElement("li");
  mark.textContent = found.hit;
  words.append(found.before, mark, found.after);
  entry.append(link, words);
  return entry;
}

function search() {
  const typed = input.value;
  const found = findPlaces(places, typed, 30);
  list.replaceChildren(...found.map(item));
  const count = found.length === 30 ? "The best 30 places." : found.length + " places.";
  if (typed.trim() === "") told.textContent = "Headings, text and glossary.";
  else if (found.length === 0) {
    told.textContent = "Nothing found. Try fewer letters, or one word only.";
  } else told.textContent = found.length === 1 ? "1 place." : count;
  try {
    history.replaceState(null, "", "#q=" + encodeURIComponent(typed));
  } catch (_) { /* the address stays as it is */ }
}

function moveBy(step) {
  const stops = [input, ...list.querySelectorAll("a")];
  const at = stops.indexOf(document.activeElement) + step;
  if (at >= 0 && at < stops.length) stops[at].focus();
}

input.addEventListener("input", search);
document.addEventListener("keydown", (event) => {
  if (event.key === "ArrowDown") moveBy(1);
  else if (event.key === "ArrowUp") moveBy(-1);
  else if (event.key === "Enter" && event.target === input) list.querySelector("a")?.click();
  else if (event.key === "Escape") {
    input.value = "";
    search();
    input.focus();
  } else return;
  event.preventDefault();
});
// The page's own script shows what needs a script; only then can the field take the keys.
document.addEventListener("DOMContentLoaded", () => {
  const asked = /^#q=(.*)$/.exec(location.hash);
  if (asked !== null) {
    input.value = decodeURIComponent(asked[1]);
    search();
  }
  input.focus();
});
