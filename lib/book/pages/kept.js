// What a reader writes is kept at once, and put back at once, also before the page's library is there: under the keys and in the
// form of lib/living/kept.ts, which takes over when it is ready.
(function () {
  const { book, record: built, page } = JSON.parse(
    document.querySelector("script[data-page]").textContent,
  );
  const record = globalThis.firstMirrorBench ?? built;
  const start = "first-mirror/" + [book, record].map(encodeURIComponent).join("/") + "/";
  let isReady = false;

  function path(kind, key) {
    return start + kind + "/" + encodeURIComponent(page) + "/" + encodeURIComponent(key);
  }

  document.addEventListener("first-mirror:ready", function () {
    isReady = true;
  });
  document.addEventListener("first-mirror:keep", function ({ detail }) {
    if (isReady) return;
    const { kind, key, value } = detail;
    try {
      const at = new Date().toISOString();
      if (value === undefined) localStorage.removeItem(path(kind, key));
      else localStorage.setItem(path(kind, key), JSON.stringify({ value, at }));
    } catch (_) { /* the library says so, as soon as it is there */ }
  });

  try {
    for (const kind of ["guess", "answer"]) {
      const own = path(kind, "");
      for (const name of Object.keys(localStorage).filter((one) => one.startsWith(own))) {
        const key = decodeURIComponent(name.slice(own.length));
        const { value } = JSON.parse(localStorage.getItem(name));
        const detail = { kind, key, value };
        document.dispatchEvent(new CustomEvent("first-mirror:put-back", { detail }));
      }
    }
  } catch (_) { /* nothing is kept, or something that this page does not understand */ }
})();
