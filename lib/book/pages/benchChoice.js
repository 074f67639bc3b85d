// A page of a class's book: which bench it is of, and what is that bench's own on it.
(function () {
  const { book, record: built, page, benches } = JSON.parse(
    document.querySelector("script[data-page]").textContent,
  );
  const root = document.documentElement,
    key = "first-mirror/" + encodeURIComponent(book) + "/bench";
  function all(selector) {
    return document.querySelectorAll(selector);
  }
  function last() {
    try {
      return localStorage.getItem(key);
    } catch (_) {
      return null; // a browser that keeps nothing: the address tells
    }
  }
  // in the room a bench's book lies at an address of its own
  const own = /^\/bench\/([^/]+)\/book\//.exec(location.pathname);
  const asked = own
    ? decodeURIComponent(own[1])
    : new URLSearchParams(location.search).get("bench");
  const bench = own ? asked : [asked, last(), built].find(function (one) {
    return benches.includes(one);
  });
  globalThis.firstMirrorBench = bench;
  root.dataset.bench = bench;

  const form = document.querySelector("[data-benches]");
  if (form) {
    const select = form.querySelector("select"), says = form.querySelector("[data-bench-says]");
    select.value = bench;
    if (own) form.hidden = true;
    select.addEventListener("change", function () {
      try {
        localStorage.setItem(key, select.value);
      } catch (_) { /* the address tells */ }
      location.search = "?bench=" + encodeURIComponent(select.value);
    });
    if (bench !== built) {
      // what was built is of another bench, and shows nobody's numbers as this one's
      for (const out of all("[data-output-of]")) {
        const waits = document.createElement("p");
        waits.className = "how";
        waits.textContent = "Runs on this bench’s readings …";
        out.replaceChildren(waits);
        out.dataset.state = "stale";
      }
      for (const part of all("[data-of-bench]")) part.replaceChildren();
      says.textContent = "Reading this bench’s numbers …";
    }
    document.addEventListener("first-mirror:bench", function () {
      const { refusals, parts } = globalThis.firstMirrorShared.bench;
      for (const part of all("[data-of-bench]")) {
        const markup = (parts[page] || {})[part.dataset.ofBench];
        if (markup !== undefined) part.innerHTML = markup;
        else if (bench !== built || refusals) part.replaceChildren();
      }
      links();
      says.textContent = refusals ? "Its record cannot be read: " + refusals.join(" ") : "";
    });
    document.addEventListener("first-mirror:ready", function () {
      if (globalThis.firstMirrorOther) document.getElementById("run-all").click();
    });
    globalThis.firstMirrorOther = bench !== built || Boolean(own);
  }

  // pages of the bench's own, and the lessons with the bench in their address
  function links() {
    const name = encodeURIComponent(bench);
    for (const link of all('a[href^="benches/"]')) {
      link.setAttribute(
        "href",
        link.getAttribute("href").replace(/^benches\/[^/]+/, "benches/" + name),
      );
    }
    for (const link of all("a[data-bench-page]")) link.href = "benches/" + name + "/index.html";
    if (own) return;
    for (const link of all("a[href]")) {
      const found = /^(\d\d-[\w-]+\.html)(?:\?[^#]*)?(#.*)?$/.exec(link.getAttribute("href"));
      if (found) link.setAttribute("href", found[1] + "?bench=" + name + (found[2] || ""));
    }
  }
  links();
})();
