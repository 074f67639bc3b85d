// The wall: one screen for a whole room. It asks for the class after every change that it hears of, and draws it anew.
(function () {
  "use strict";
  const byId = function (id) {
    return document.getElementById(id);
  };
  const places = [
    ["Grinding", ["blanks", "rough grinding", "check the record", ""]],
    ["Right depth", ["measuring", "correcting"]],
    ["Fine grinding", ["fine grinding"]],
    ["Pitch lap", ["lap"]],
    ["Polishing", ["polishing"]],
    ["Testing", ["band test", "zone test", "star test"]],
    ["Figuring", ["figuring"]],
    ["Coating, tube", [
      "coating",
      "flat and tube",
      "cell",
      "mounting",
      "alignment",
      "first light",
      "care",
    ]],
  ];
  // groups in the leader's order; the first is framed, since nothing there can be taken back
  const groups = [
    [["pinned"], "Put first by the leader"],
    [["cannot be undone"], "Go there first: cannot be undone"],
    [["adult"], "An adult must be there"],
    [["too deep", "slip", "cannot be read"], "A number is wrong"],
    [["nothing yet", "idle"], "Waits for you longest"],
  ];
  const mostRows = 8, mostWhat = 36, mostWhy = 50;
  let news = 0, room;

  function el(tag, text, cls) {
    const e = document.createElement(tag);
    if (text !== undefined && text !== "") e.textContent = text;
    if (cls) e.className = cls;
    return e;
  }
  function fill(id, many) {
    byId(id).replaceChildren.apply(byId(id), many);
  }
  // a bench by its number, else by the beginning of its name: never a learner's name
  function numbers(benches) {
    const found = {}, seen = {};
    benches.forEach(function (b) {
      const digits = /(\d+)(?!.*\d)/.exec(b.folder);
      let short = digits ? String(+digits[1]) : b.name.slice(0, 4);
      if (seen[short]) short = b.folder.slice(-5);
      seen[short] = true;
      found[b.folder] = short;
    });
    return found;
  }
  // as much of the first sentences as fits into a line, else whole words of it
  function cut(text, letters) {
    text = text.replace(/^[\w.]+\.(csv|yaml)(, line \d+)?(, column \w+)?: /, "");
    let first = "";
    (text.match(/[^.:;]+[.:;]*(?:\s+|$)|\S+/g) || []).some(function (part) {
      if ((first + part).trim().length > letters) return true;
      first += part;
      return false;
    });
    first = first.trim().replace(/[:;]$/, "");
    if (first.length === text.length || first.length > letters * 0.6) return first;
    const kept = text.slice(0, letters - 1);
    return kept.slice(0, Math.max(kept.lastIndexOf(" "), letters - 14)).replace(/[\s,;:.(]+$/, "") +
      " …";
  }
  function clock(date) {
    return ("0" + date.getHours()).slice(-2) + ":" + ("0" + date.getMinutes()).slice(-2);
  }
  function since(bench) {
    if (bench.last_at) {
      const at = new Date(bench.last_at);
      if (Date.now() - at < 12 * 3600e3) return "since " + clock(at);
    }
    return bench.idle_days ? bench.idle_days + (bench.idle_days === 1 ? " day" : " days") : "";
  }
  function why(bench) {
    if (bench.kind === "idle") return [since(bench), bench.stage].filter(Boolean).join(": ");
    return bench.reason.replace(/^Cannot be read: /, "").replace(/^Put first by the leader\. /, "");
  }
  function what(bench) {
    if (bench.state === "empty" || bench.kind === "nothing yet") return "Nothing is written yet.";
    if (bench.kind === "cannot be read") return "Cannot be read: mend it together.";
    return bench.next_step || "Look at it together.";
  }

  function chosen(benches, most) {
    let left = most;
    const rows = [];
    groups.forEach(function (group, g) {
      const all = benches.filter(function (b) {
        return group[0].indexOf(b.kind) >= 0;
      });
      if (!all.length || left < 1) return;
      // what comes after in a group stands in its last row
      const room = g < 2 ? left : Math.min(left, g === 4 ? 1 : 2), shown = all.slice(0, room);
      left -= shown.length;
      rows.push({ title: group[1], first: g < 2, benches: shown, then: all.slice(room) });
    });
    return rows;
  }

  // so many benches by name as the screen has room for above where all stand
  function draw(most) {
    const named = {},
      short = numbers(room.benches),
      rows = chosen(room.benches, most),
      wall = byId("wall");
    byId("title").textContent = room.title;
    wall.classList.toggle(
      "many",
      room.benches.length > 16 || rows.reduce(function (n, r) {
            return n + r.benches.length;
          }, 0) > 6,
    );
    fill(
      "list",
      rows.map(function (group) {
        const li = el("li", "", group.first ? "first" : ""), ul = el("ul");
        li.append(el("h2", group.title), ul);
        group.benches.forEach(function (b, i) {
          named[b.folder] = group.first ? "rouge" : "named";
          const r = el("li"),
            t = el("div"),
            no = el("div", "", "no"),
            last = i === group.benches.length - 1;
          no.append(el("span", "Bench ", "sr"), short[b.folder]);
          const more = last && group.then.length
            ? " Then " + group.then.slice(0, 4).map(function (x) {
              return short[x.folder];
            }).join(", ") + (group.then.length > 4 ? " …" : "")
            : "";
          t.append(
            el("p", cut(what(b), mostWhat), "what"),
            el(
              "p",
              cut(why(b), mostWhy - more.length).replace(/\.$/, "") + (more ? "." + more : ""),
              "why",
            ),
          );
          r.append(no, t);
          ul.append(r);
        });
        return li;
      }),
    );
    if (!rows.length) fill("list", [el("li", "Nobody waits.")]);
    const waiting = room.tester.waiting, count = room.tester.count;
    fill(
      "tester",
      waiting.length
        ? waiting.slice(0, 6).map(function (folder, i) {
          const li = el("li", "", i < count ? "at" : ""),
            bench = room.benches.filter(function (b) {
              return b.folder === folder;
            })[0];
          li.append(
            el("b", short[folder]),
            el(
              "span",
              i < count
                ? (count > 1 ? "next at tester " + (i + 1) : "next at the tester")
                : "waits",
            ),
            el("span", bench ? since(bench) : ""),
          );
          return li;
        })
        : [el("li", "free")],
    );
    const wanted = room.adults.wanted.map(function (folder) {
      return short[folder];
    });
    const adults = el("div"), have = room.adults.count;
    adults.append(
      el("dt", have === undefined ? "Wanted" : have + (have === 1 ? " adult" : " adults")),
      el("dd"),
      el("dd", wanted.length ? "at " + wanted.slice(0, 5).join(", ") : "free"),
    );
    if (have !== undefined && wanted.length > have) adults.className = "short";
    fill("adults", [adults]);
    byId("stock-part").hidden = !room.stock.length;
    fill(
      "stock",
      room.stock.slice(0, 6).map(function (s) {
        const d = el("div", "", s.short ? "short" : ""), bar = el("dd", "", "left"), i = el("i");
        i.style.width = Math.round(100 * s.left / (s.had || 1)) + "%";
        bar.append(i);
        d.append(
          el("dt", s.name.charAt(0).toUpperCase() + s.name.slice(1)),
          bar,
          el(
            "dd",
            (s.left >= 1000 ? (s.left / 1000).toFixed(1) + " kg" : s.left + " g") +
              (s.short ? ", short" : ""),
          ),
        );
        return d;
      }),
    );
    fill(
      "stand",
      places.map(function (place) {
        const here = room.benches.filter(function (b) {
            return place[1].indexOf(b.stage || "") >= 0;
          }),
          li = el("li");
        here.sort(function (a, b) {
          return short[a.folder].localeCompare(short[b.folder], "en", { numeric: true });
        });
        li.setAttribute(
          "aria-label",
          place[0] + ": " + (here.map(function (b) {
            return short[b.folder];
          }).join(", ") || "none"),
        );
        here.forEach(function (b) {
          li.append(el(named[b.folder] ? "b" : "span", short[b.folder], named[b.folder] || ""));
        });
        return li;
      }),
    );
    fill(
      "places",
      places.map(function (place) {
        return el("span", place[0]);
      }),
    );
    const stand = byId("stand").getBoundingClientRect();
    const isFull = stand.height > 0 && byId("list").getBoundingClientRect().bottom > stand.top - 4;
    if (isFull && most > 4) draw(most - 1);
  }

  // how long ago news came: the wall says so itself when it has none
  function tick() {
    const now = new Date(), lost = news > 0 && now - news > 40000;
    byId("clock").textContent = clock(now);
    byId("clock").dateTime = clock(now);
    byId("wall").classList.toggle("lost", lost);
    document.querySelector(".fresh").textContent = !news
      ? "not heard yet"
      : lost
      ? "no news since " + clock(new Date(news))
      : "renewed at " + clock(new Date(news)) + ":" + ("0" + new Date(news).getSeconds()).slice(-2);
  }
  let asking = false, again = false;
  function ask() {
    if (asking) {
      again = true;
      return;
    }
    asking = true;
    fetch("/api/class").then(function (answer) {
      if (answer.status === 401) {
        location.replace("/enter");
        throw new Error("no key");
      }
      return answer.json();
    }).then(function (told) {
      room = told;
      news = Date.now();
      draw(mostRows);
      tick();
    }).catch(function () {/* told by the clock */}).then(function () {
      asking = false;
      if (again) {
        again = false;
        ask();
      }
    });
  }
  const hears = new EventSource("/api/events");
  hears.onmessage = ask;
  hears.onopen = ask;
  setInterval(tick, 1000);
  setInterval(ask, 15000);
  ask();
  tick();
})();
