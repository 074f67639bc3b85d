// Reads the script beside the page once the page is drawn; calls that come before are kept for it.
(function () {
  let waiting = globalThis.firstMirrorWaiting = [];
  const page = JSON.parse(document.querySelector("script[data-page]").textContent);
  let begun = false;
  function read() {
    if (begun) return;
    begun = true;
    for (const name of page.scripts) {
      const script = document.createElement("script");
      script.src = name.replace("BENCH", encodeURIComponent(globalThis.firstMirrorBench));
      script.async = false;
      document.head.append(script);
    }
  }
  globalThis.firstMirror = {
    version: page.version,
    run(cell, source) {
      read();
      return new Promise(function (done, failed) {
        waiting.push(function () {
          firstMirror.run(cell, source).then(done, failed);
        });
      });
    },
    record() {
      return Object.fromEntries(
        Object.entries(page.files).map(function ([path, text]) {
          return [path.slice(page.folder.length + 1), text];
        }),
      );
    },
  };
  // a cell that is asked to change and run waits for what can run it
  document.addEventListener("first-mirror:write", function wait(event) {
    if (!waiting) return;
    read();
    const { target, detail } = event;
    detail.ran = new Promise(function (done) {
      waiting.push(function () {
        const again = { change: detail.change, ran: undefined };
        target.dispatchEvent(new CustomEvent("first-mirror:write", { detail: again }));
        done(again.ran);
      });
    });
  }, true);
  document.addEventListener("first-mirror:ready", function () {
    const calls = waiting;
    waiting = undefined;
    for (const call of calls) call();
  });
  requestAnimationFrame(function () {
    setTimeout(read);
  });
  addEventListener("load", function () {
    setTimeout(read, 100);
  });
})();
