// The leader's page: every bench in the order of help, one put first by hand, a bench begun.
(function () {
  "use strict";
  const byId = function (x) {
    return document.getElementById(x);
  };
  function el(tag, text, cls) {
    const e = document.createElement(tag);
    if (text) e.textContent = text;
    if (cls) e.className = cls;
    return e;
  }
  function clock(d) {
    return ("0" + d.getHours()).slice(-2) + ":" + ("0" + d.getMinutes()).slice(-2) + ":" +
      ("0" + d.getSeconds()).slice(-2);
  }
  function post(path, body) {
    return fetch(path, {
      method: "POST",
      body: JSON.stringify(body),
      headers: { "content-type": "application/json" },
    }).then(function (answer) {
      return answer.json().then(function (told) {
        if (!answer.ok) throw new Error(told.error || "It was not done.");
        return told;
      });
    });
  }
  function draw(room) {
    byId("title").textContent = room.title;
    byId("class-yaml").hidden = !room.class_yaml;
    byId("class-yaml").textContent = (room.class_yaml || []).join(" ");
    byId("benches").replaceChildren.apply(
      byId("benches"),
      room.benches.map(function (b) {
        const tr = el("tr", "", /^(pinned|cannot be undone|adult)$/.test(b.kind) ? "first" : ""),
          place = el("td", String(b.rank)),
          name = el("td"),
          why = el("td"),
          pin = el("td"),
          link = el("a", b.name),
          isFirst = room.pinned.indexOf(b.folder) >= 0,
          button = el("button", isFirst ? "no more first" : "put first");
        link.href = "/bench/" + encodeURIComponent(b.folder);
        const since = b.last_at
          ? "last entry " + clock(new Date(b.last_at)).slice(0, 5) +
            (b.last_at.slice(0, 10) === room.today ? "" : ", " + b.last_at.slice(0, 10))
          : b.idle_days
          ? b.idle_days + " days ago"
          : "";
        name.append(link, el("small", [b.stage, since].filter(Boolean).join(", ")));
        why.append(el("b", b.kind), " ", b.reason, el("small", b.next_step || ""));
        // what phones have sent and what is no more in its table so: mended by hand, or lost under an older copy that was saved
        (b.gone || []).forEach(function (g) {
          const line = el(
              "small",
              "No more in " + g.table + ".csv as it was sent: " + g.words + " ",
            ),
            back = el("button", "put it back");
          back.type = "button";
          back.setAttribute("aria-label", "Put back into " + g.table + ": " + g.words);
          back.onclick = function () {
            fetch(
              "/api/benches/" + encodeURIComponent(b.folder) + "/tables/" + g.table + "/rows/" +
                encodeURIComponent(g.id),
              { method: "PUT" },
            ).then(ask);
          };
          line.append(back);
          why.append(line);
        });
        button.type = "button";
        button.setAttribute("aria-label", (isFirst ? "No more first: " : "Put first: ") + b.name);
        button.onclick = function () {
          post("/api/pins", { bench: b.folder, first: !isFirst }).then(ask, function (e) {
            byId("news").textContent = e.message;
          });
        };
        pin.append(button);
        tr.append(place, name, why, pin);
        return tr;
      }),
    );
  }
  function ask() {
    return fetch("/api/class").then(function (answer) {
      if (!answer.ok) throw new Error();
      return answer.json();
    }).then(function (room) {
      draw(room);
      byId("news").textContent = room.today + ", renewed at " + clock(new Date());
    }, function () {
      byId("news").textContent = "The room is out of reach since " + clock(new Date()) + ".";
    });
  }
  byId("begin").onsubmit = function (event) {
    event.preventDefault();
    const form = event.target;
    post("/api/benches", {
      folder: form.folder.value.trim(),
      name: form.name.value.trim() || form.folder.value.trim(),
    }).then(function (told) {
      byId("begun").textContent = told.folder +
        " is begun. Its code is on its card: print the cards.";
      form.reset();
      ask();
    }, function (e) {
      byId("begun").textContent = e.message;
    });
  };
  const hears = new EventSource("/api/events");
  hears.onmessage = ask;
  hears.onopen = ask;
  ask();
  setInterval(ask, 30000);
})();
