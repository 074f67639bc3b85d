// A bench on a phone: one thing at a time. What is typed goes to the queue, and from there to the room.
(function () {
  "use strict";
  const byId = function (x) {
      return document.getElementById(x);
    },
    all = function (s, e) {
      return [].slice.call((e || document).querySelectorAll(s));
    };
  const queue = globalThis.roomQueue,
    caller = globalThis.roomCaller;
  let facts;
  const kept = "first-mirror-bench " + queue.folder;
  let returned;
  document.documentElement.classList.add("js");
  byId("to-book").href = "/bench/" + encodeURIComponent(queue.folder) + "/book/";

  function el(tag, text, cls) {
    const e = document.createElement(tag);
    if (text !== undefined) e.textContent = text;
    if (cls) e.className = cls;
    return e;
  }
  function svg(markup) {
    const d = new DOMParser().parseFromString(
      '<svg xmlns="http://www.w3.org/2000/svg" ' + markup + "</svg>",
      "image/svg+xml",
    ).documentElement;
    return document.importNode(d, true);
  }
  function press(group, b) {
    all("[aria-pressed]", group).forEach(function (x) {
      x.setAttribute("aria-pressed", x === b);
    });
  }
  function pressed(group) {
    return group.querySelector('[aria-pressed="true"]');
  }
  function clock(iso) {
    const d = new Date(iso);
    return ("0" + d.getHours()).slice(-2) + ":" + ("0" + d.getMinutes()).slice(-2);
  }
  function tidy(n) {
    return String(+n.toFixed(4));
  }
  function plain(text) {
    return text.trim().split("+").map(function (part) {
      return part.trim().replace(",", ".");
    }).join("+");
  }

  // views
  function form(name) {
    all("[data-is]").forEach(function (e) {
      e.hidden = e.dataset.is !== name;
    });
    press(byId("which"), byId("which").querySelector('[data-form="' + name + '"]'));
  }
  function view() {
    let h = location.hash.slice(1) || "next";
    if (/^(leaves|zones|minutes|other)$/.test(h)) {
      form(h);
      h = "reading";
    }
    if (!byId(h) || !byId(h).classList.contains("view")) h = "next";
    all(".view").forEach(function (v) {
      v.classList.toggle("now", v.id === h);
    });
    all(".foot a").forEach(function (a) {
      if (a.hash === "#" + h) a.setAttribute("aria-current", "page");
      else a.removeAttribute("aria-current");
    });
    scrollTo(0, 0);
  }
  addEventListener("hashchange", view);
  all("[data-form]").forEach(function (b) {
    b.onclick = function () {
      form(b.dataset.form);
    };
  });

  // what is known of the bench
  function table(name) {
    return facts && facts.tables[name] || { columns: [], rows: 0 };
  }
  // the columns that the file has, of those that are known here; in the file's own order
  function fit(name, given) {
    const out = {}, row = Object.assign({ date: facts.today }, given);
    if (minutes() > 0 && name !== "grinding" && !row.after_min) row.after_min = tidy(minutes());
    table(name).columns.forEach(function (c) {
      const other = c.replace(/_in$/, "_mm");
      if (row[c] !== undefined && row[c] !== "") out[c] = row[c];
      else if (other !== c && row[other] !== undefined && row[other] !== "") {
        out[other] = row[other];
      }
    });
    return out;
  }
  let waitingMinutes = 0;
  function minutes() {
    return (facts ? facts.minutes : 0) + waitingMinutes;
  }
  function lastCell(name, column) {
    const t = table(name), at = t.columns.indexOf(column);
    return t.last && at >= 0 ? t.last[at] : undefined;
  }

  function depthFigure() {
    const d = facts.depth;
    if (!d || !(d.wanted > 0)) {
      byId("depth").replaceChildren();
      return;
    }
    const u = 1.96 * d.u,
      lo = Math.min(d.value - u, d.wanted) - 0.012,
      hi = Math.max(d.value + u, d.wanted) + 0.012,
      x = function (v) {
        return (8 + 342 * (v - lo) / (hi - lo)).toFixed(1);
      };
    const left = d.value < (lo + hi) / 2, wx = Math.min(310, Math.max(48, x(d.wanted)));
    byId("depth").replaceChildren(
      svg(
        'viewBox="0 0 358 104" role="img" aria-label="Depth, ' + d.value.toFixed(3) +
          " millimetres plus or minus " + d.u.toFixed(3) + "; wanted is " + d.wanted.toFixed(3) +
          '."><rect class="zone-a" x="8" y="34" width="' + (x(d.wanted) - 8) +
          '" height="28"/><rect class="zone-c" x="' + x(d.wanted) + '" y="34" width="' +
          (350 - x(d.wanted)) + '" height="28"/><path class="dim" d="M' + x(d.wanted) +
          ',26V62"/><text x="' + wx + '" y="18" text-anchor="middle" font-size="13">wanted ' +
          d.wanted.toFixed(3) +
          '</text><path class="axis" d="M8,62H350M8,62v5M350,62v5"/><text class="soft" x="8" y="82" font-size="13">' +
          lo.toFixed(3) +
          '</text><text class="soft" x="350" y="82" text-anchor="end" font-size="13">' +
          hi.toFixed(3) + '</text><path class="mine" style="stroke-width:2" d="M' + x(d.value - u) +
          ",48H" + x(d.value + u) + "M" + x(d.value - u) + ",42v12M" + x(d.value + u) +
          ',42v12"/><circle class="mine" cx="' + x(d.value) +
          '" cy="48" r="5"/><text class="b t-glass" x="' + x(d.value) + '" y="100" text-anchor="' +
          (left ? "start" : "end") + '" font-size="13">yours ' + d.value.toFixed(3) + " ± " +
          d.u.toFixed(3) + " mm</text>",
      ),
      el("figcaption", "The bar is 95 %. To the right of the line it is too deep."),
    );
  }
  function draw() {
    if (!byId("leaf-keys").children.length) leafKeys(facts.leaves);
    byId("name").textContent = facts.name;
    document.title = facts.name + " · First Mirror";
    const next = facts.next;
    byId("caution").hidden = !next;
    byId("cautions").replaceChildren.apply(
      byId("cautions"),
      (next ? next.cautions : []).map(function (c) {
        return el("li", c);
      }),
    );
    byId("step").textContent = next
      ? next.do
      : facts.state === "empty"
      ? "Nothing lies in this bench’s folder yet. Ask the leader to begin it."
      : "Not known before the files are mended: show this to the leader.";
    byId("until").textContent = next ? "Until " + next.until : facts.why || "";
    if (next && facts.state === "refused") {
      byId("until").textContent += " Cannot be read: " + facts.why;
    }
    depthFigure();
    const last = facts.entries[0],
      stands = facts.entries.filter(function (e) {
        return e.state === "stands" && e.table !== "photos";
      })[0];
    if (last) {
      byId("last").replaceChildren(
        "Last entry, " + clock(last.at),
        document.createElement("br"),
        el("span", last.table + ": " + last.words, last.state === "taken back" ? "gone" : ""),
      );
    }
    byId("undo").hidden = !stands;
    byId("undo").onclick = function () {
      queue.undo(stands);
    };
    if (stands && stands !== last) byId("undo").textContent = "Take back the one before";
    else byId("undo").textContent = "Take it back";
    byId("to-strokes").hidden =
      !(next && /grinding|correcting|polishing|figuring|measuring/.test(next.stage));
    // one key alone leads on: the strokes where there are some to count, else the steps
    byId("to-steps").hidden = !byId("to-strokes").hidden || !facts.work || !facts.work.now;
    // what is on top and which grade: as the log's last row has it, until it is changed here
    if (!byId("grade").options.length) {
      byId("grade").append.apply(
        byId("grade"),
        facts.grades.map(function (g) {
          return new Option(g, g);
        }),
      );
      byId("grade").value = lastCell("grinding", "abrasive") || "F80";
      const side = /tool|lap/.test(lastCell("grinding", "position") || "")
        ? "tool on top"
        : "mirror on top";
      press(byId("sides"), byId("sides").querySelector('[data-side="' + side + '"]'));
    }
    if (facts.turning) caller.rule(facts.turning);
    fillTables();
    workBegin();
    zonesBegin();
    minutesDraw();
    callerDraw(caller.place());
  }
  let asking = false, more = false;
  function ask() {
    if (asking) {
      more = true;
      return;
    }
    asking = true;
    fetch(queue.api).then(function (answer) {
      if (answer.status === 401 || answer.status === 403) throw new Error("shut");
      if (!answer.ok) throw new Error("gone");
      return answer.json();
    }).then(function (told) {
      facts = told;
      waitingMinutes = 0;
      try {
        localStorage.setItem(kept, JSON.stringify(told));
      } catch { /* asked again next time */ }
      heard(true);
      draw();
    }, function (error) {
      if (error.message === "shut") shut();
      else heard(false);
    }).then(function () {
      asking = false;
      if (more) {
        more = false;
        ask();
      }
    });
  }

  // reach: what waits is counted, and goes by itself
  function heard(isIn, sentence) {
    const n = queue.waiting();
    document.documentElement.dataset.reach = isIn && !n ? "in" : isIn ? "in" : "out";
    byId("wait").textContent = (n === 1 ? "1 entry waits" : n + " entries wait") +
      " on this phone.";
    byId("saved").textContent = n
      ? n + (n === 1 ? " waits here" : " wait here")
      : isIn
      ? "saved in the room, " + clock(new Date())
      : "out of reach";
    if (sentence) byId("saved").textContent = sentence;
  }
  function shut() {
    byId("saved").textContent =
      "This phone’s key does not open this bench any more. Scan the code again; what waits stays here.";
  }
  queue.on.changed = function (n, error) {
    heard(
      error === undefined || n === 0
        ? document.documentElement.dataset.reach !== "out"
        : error !== "",
      error || undefined,
    );
  };
  queue.on.taken = function (one) {
    if (one.kind === "photo") byId("photo-says").textContent = "Sent to the room.";
    heard(true);
    ask();
  };
  queue.on.shut = shut;
  queue.on.refused = function (one, why) {
    returned = one;
    byId("returned").hidden = false;
    byId("returned-why").replaceChildren.apply(
      byId("returned-why"),
      [el("li", one.words || "")].concat(why.map(function (w) {
        return el("li", w);
      })),
    );
    waitingMinutes = 0;
    ask();
    byId("returned").scrollIntoView();
  };
  byId("returned-drop").onclick = function () {
    byId("returned").hidden = true;
  };
  byId("returned-mend").onclick = function () {
    byId("returned").hidden = true;
    location.hash = returned.table === "sagitta"
      ? "leaves"
      : returned.table === "grinding"
      ? "minutes"
      : returned.table === "zones"
      ? "zones"
      : returned.kind === "photo" || returned.table === "ronchi"
      ? "bands"
      : "other";
  };
  function entered(name, rows, words) {
    byId("last").replaceChildren("Just entered", document.createElement("br"), words);
    queue.rows(name, rows, words);
    location.hash = "next";
  }

  // the work of the hands, one step at a time; the place in each is kept on this phone
  const workKey = "first-mirror-steps " + queue.folder;
  let task = undefined, chosen = "";
  function stored() {
    try {
      return JSON.parse(localStorage.getItem(workKey)) || { at: {} };
    } catch {
      return { at: {} };
    }
  }
  function store(change) {
    try {
      localStorage.setItem(workKey, JSON.stringify(Object.assign(stored(), change)));
    } catch { /* the place is lost when the page is closed */ }
  }
  function stepAt() {
    const at = stored().at[chosen] || 0;
    return task ? Math.min(at, task.steps.length) : 0;
  }
  function stepTo(at) {
    const all = stored().at;
    all[chosen] = at;
    store({ at: all });
    workDraw();
    byId("work-step").focus();
    scrollTo(0, 0);
  }
  function titled(kind, title, text) {
    const e = el("div", undefined, kind);
    e.append(el("b", title), " " + text);
    return e;
  }
  function workDraw() {
    byId("step-on").disabled = !task;
    if (!task) return;
    const n = task.steps.length, at = stepAt(), step = task.steps[at - 1];
    byId("work-title").textContent = task.title;
    const cautions = step ? step.cautions : task.steps.reduce(function (all, one) {
      return all.concat(one.cautions);
    }, []);
    byId("work-caution").hidden = !cautions.length;
    byId("work-caution-title").textContent = step
      ? "Caution, before this step"
      : "Caution, before you begin";
    byId("work-cautions").replaceChildren.apply(
      byId("work-cautions"),
      cautions.map(function (c) {
        return el("li", c);
      }),
    );
    byId("work-at").textContent = step ? "Step " + at + " of " + n : n + " steps";
    const place = byId("work-step");
    if (!step) {
      place.replaceChildren(
        titled("ready", "Who:", task.who + "."),
        titled("ready", "Ready:", task.bench.join("; ") + "."),
        titled("ready", "Alone?", task.alone),
      );
    } else {
      const you = el("p", step.do, "do");
      if (step.adult) {
        const both = el("div", undefined, "both"), adult = el("div"), own = el("div");
        adult.append(el("h3", "Trained adult"), el("p", step.adult));
        own.append(el("h3", "You"), you);
        both.append(adult, own);
        place.replaceChildren(both);
      } else place.replaceChildren(you);
      place.append(titled("sign", "Right:", step.right));
      if (step.wrong) place.append(titled("sign wrong", "Wrong:", step.wrong));
      if (step.write) place.append(titled("ready", "Write down:", step.write));
    }
    const drawing = step && step.drawing
      ? document.importNode(
        new DOMParser().parseFromString(step.drawing, "text/html").querySelector("svg"),
        true,
      )
      : undefined;
    byId("drawn").replaceChildren.apply(byId("drawn"), drawing ? [drawing] : []);
    byId("step-back").disabled = at === 0;
    byId("step-on").textContent = at === 0
      ? "Begin"
      : at < n
      ? "Done, next step"
      : "Done, all of it";
  }
  byId("step-back").onclick = function () {
    stepTo(Math.max(0, stepAt() - 1));
  };
  byId("step-on").onclick = function () {
    if (stepAt() < task.steps.length) stepTo(stepAt() + 1);
    else {
      stepTo(0);
      location.hash = "next";
    }
  };
  function workAsk(stage) {
    chosen = stage;
    const before = stored().work;
    task = before && before.stage === stage ? before : undefined;
    byId("work-says").textContent = task ? "" : "…";
    workDraw();
    fetch(queue.api + "/steps/" + encodeURIComponent(stage)).then(function (answer) {
      return answer.json().then(function (told) {
        if (chosen !== stage) return;
        if (!answer.ok) {
          byId("work-says").textContent = told.error;
          return;
        }
        task = told;
        byId("work-says").textContent = "";
        store({ work: told });
        workDraw();
      });
    }).catch(function () {
      if (!task) {
        byId("work-says").textContent = "Out of reach: these steps come when the room is back.";
      }
    });
  }
  byId("work").onchange = function () {
    store({ chosen: this.value, of: facts.work.now || "" });
    workAsk(this.value);
  };
  function workBegin() {
    const box = byId("work");
    if (!facts.work) return;
    if (!box.options.length) {
      box.append.apply(
        box,
        facts.work.stages.map(function (one) {
          return new Option(one.title, one.stage);
        }),
      );
    }
    // what was chosen stays as long as the mirror is where it was; then it is the next step's work
    const kept = stored(), now = facts.work.now || "";
    const stage = kept.chosen && kept.of === now
      ? kept.chosen
      : now || kept.chosen || facts.work.stages[0].stage;
    if (stage === chosen) return;
    box.value = stage;
    workAsk(stage);
  }

  // leaves: two stacks, drawn to scale, sixty times
  let stacks = [[], []], at = 0;
  const stackNames = ["Passes", "Does not pass"];
  function sum(s) {
    return s.reduce(function (a, b) {
      return a + b;
    }, 0);
  }
  function stackDraw() {
    all("[data-stack]").forEach(function (b, i) {
      let y = 82;
      const bars = stacks[i].map(function (t) {
        const h = t * 60;
        y -= h;
        return '<rect class="steel" x="1" y="' + y.toFixed(1) + '" width="120" height="' +
          h.toFixed(1) + '"/>';
      }).join("");
      b.replaceChildren(
        stackNames[i],
        el("big", sum(stacks[i]).toFixed(2) + " mm"),
        el(
          "small",
          stacks[i].map(function (t) {
            return t.toFixed(2);
          }).join(" + "),
        ),
        svg(
          'viewBox="0 0 170 86" preserveAspectRatio="xMinYMax meet" aria-hidden="true">' + bars +
            '<path class="ground" d="M0,84H168"/><text class="soft" x="126" y="76" font-size="13" fill="currentColor">× 60</text>',
        ),
      );
    });
    const go = sum(stacks[0]), no = sum(stacks[1]), says = byId("leaf-says");
    says.className = !go || !no ? "no" : no > go + 1e-6 ? "no ok" : "no wrong";
    says.textContent = !go || !no
      ? "Tap the leaves of each stack one by one."
      : no > go + 1e-6
      ? "Between them: " + ((go + no) / 2).toFixed(3) + " mm, give or take " +
        ((no - go) / 2).toFixed(3) + "."
      : "The stack that does not pass must be thicker: add the next leaf, or swap the two.";
  }
  function leafKeys(leaves) {
    byId("leaf-keys").replaceChildren.apply(
      byId("leaf-keys"),
      leaves.map(function (t) {
        const b = el("button", t.toFixed(2));
        b.type = "button";
        b.onclick = function () {
          if (stacks[at].indexOf(t) < 0) {
            stacks[at].push(t);
            stacks[at].sort(function (a, c) {
              return c - a;
            });
          } else {byId("leaf-says").textContent = "A set has one leaf of " + t.toFixed(2) +
              " mm, and it lies in the stack already.";}
          if (stacks[at].indexOf(t) >= 0) stackDraw();
        };
        return b;
      }),
    );
  }
  all("[data-stack]").forEach(function (b, i) {
    b.onclick = function () {
      at = i;
      press(byId("stacks"), b);
    };
  });
  byId("leaf-off").onclick = function () {
    stacks[at].pop();
    stackDraw();
  };
  byId("leaf-enter").onclick = function () {
    if (!stacks[0].length || !stacks[1].length) {
      stackDraw();
      return;
    }
    const cell = function (s) {
      return s.map(function (t) {
        return t.toFixed(2);
      }).join("+");
    };
    entered(
      "sagitta",
      [fit("sagitta", { go_mm: cell(stacks[0]), nogo_mm: cell(stacks[1]) })],
      cell(stacks[0]) + " passes, " + cell(stacks[1]) + " does not",
    );
    stacks = [[], []];
    at = 0;
    press(byId("stacks"), all("[data-stack]")[0]);
    stackDraw();
  };

  // zones: the mask along its diameter, to scale, the window asked for filled
  let knife = [], w = 0, run = "1", isBegun = false;
  const marks = [0, 45, 90];
  function nextRun() {
    const last = lastCell("zones", "run") || "0", m = /^(.*?)(\d+)$/.exec(last);
    return lastCell("zones", "date") && lastCell("zones", "date") !== facts.today
      ? "1"
      : m
      ? m[1] + (+m[2] + 1)
      : last + "2";
  }
  function zonesBegin() {
    if (isBegun && knife.some(Boolean)) return;
    isBegun = true;
    run = nextRun();
    knife = facts.mask.map(function () {
      return "";
    });
    w = 0;
    if (!byId("mark").children.length) {
      byId("mark").append.apply(
        byId("mark"),
        marks.map(function (m, i) {
          const b = el("button", "Mark at " + m + "°");
          b.type = "button";
          b.dataset.mark = m;
          b.setAttribute("aria-pressed", i === 0);
          b.onclick = function () {
            press(byId("mark"), b);
            zonesDraw();
          };
          return b;
        }),
      );
    }
    zonesDraw();
  }
  function zonesDraw() {
    const mask = facts.mask, n = mask.length;
    byId("zone-enter").disabled = byId("zone-back").disabled = !n;
    if (!n) {
      byId("window").textContent =
        "Which mask? Its edges belong into mirror.yaml first: ask the leader.";
      byId("mask").replaceChildren();
      return;
    }
    const half = (facts.aperture || 2 * mask[n - 1].outer) / 2,
      scale = 172 / half,
      x = function (mm) {
        return 179 + mm * scale;
      };
    let s = 'viewBox="0 0 358 62" role="img" aria-label="The mask along its diameter; window ' +
      (w + 1) + " of " + n + ' is filled"><rect class="lower" x="' + x(-half) +
      '" y="4" width="' + 2 * half * scale + '" height="44"/>';
    mask.forEach(function (o, i) {
      [-1, 1].forEach(function (side) {
        const a = Math.min(x(side * o.inner), x(side * o.outer)),
          wide = (o.outer - o.inner) * scale;
        s += '<rect x="' + (a + 1.5) + '" y="10" width="' + Math.max(1, wide - 3) +
          '" height="32" style="stroke:var(--' + (i === w ? "glass" : "line") + ");fill:var(--" +
          (i === w ? "glass" : "paper") + ')"/>' + (side > 0
            ? '<text class="soft" x="' + (a + wide / 2) +
              '" y="61" text-anchor="middle" font-size="13">' + (i + 1) + "</text>"
            : "");
      });
    });
    byId("mask").replaceChildren(svg(s));
    byId("run").textContent = "Run " + run;
    byId("window").textContent = "Window " + (w + 1) + " of " + n + ": " + tidy(mask[w].inner) +
      " to " + tidy(mask[w].outer) + " mm";
    byId("knife").textContent = knife[w] || "–";
    byId("zone-enter").textContent = w < n - 1 ? "Next window" : "Enter the run";
    byId("zone-back").disabled = !w;
    byId("run-says").textContent = "So far: " + (knife.slice(0, w).join(", ") || "nothing") + ".";
  }
  ["1", "2", "3", "4", "5", "6", "7", "8", "9", ".", "0", "Clear"].forEach(function (d) {
    const b = el("button", d);
    b.type = "button";
    b.onclick = function () {
      if (d === "Clear") knife[w] = "";
      else if ((knife[w] || "").length < 7 && !(d === "." && knife[w].indexOf(".") >= 0)) {
        knife[w] = (knife[w] || "") + d;
      }
      zonesDraw();
    };
    byId("pad").append(b);
  });
  all("[data-knife]").forEach(function (b) {
    b.onclick = function () {
      press(byId("edge"), b);
    };
  });
  byId("zone-back").onclick = function () {
    if (w) w -= 1;
    zonesDraw();
  };
  byId("zone-enter").onclick = function () {
    if (!knife[w]) return;
    if (w < facts.mask.length - 1) {
      w += 1;
      zonesDraw();
      return;
    }
    const shared = {
        run: run,
        angle_deg: pressed(byId("mark")).dataset.mark,
        knife_deg: pressed(byId("edge")).dataset.knife,
      },
      isWide = table("zones").columns.some(function (c) {
        return /^zone_?\d/.test(c);
      });
    let rows;
    if (isWide) {
      const wide = Object.assign({}, shared);
      knife.forEach(function (k, i) {
        wide["zone_" + (i + 1) + "_mm"] = k;
      });
      rows = [fit("zones", wide)];
    } else {rows = facts.mask.map(function (o, i) {
        return fit(
          "zones",
          Object.assign(
            { inner_mm: tidy(o.inner), outer_mm: tidy(o.outer), reading_mm: knife[i] },
            shared,
          ),
        );
      });}
    entered("zones", rows, "run " + run + ": " + knife.join(", "));
    knife = [];
    isBegun = false;
  };

  // minutes
  let min = 0;
  function side() {
    return pressed(byId("sides")).dataset.side;
  }
  function minutesDraw() {
    byId("min").textContent = tidy(min);
    byId("min-sum").textContent = tidy(minutes()) + " min so far, " + tidy(minutes() + min) +
      " min with these.";
  }
  all("[data-side]").forEach(function (b) {
    b.onclick = function () {
      press(byId("sides"), b);
      callerDraw(caller.place());
    };
  });
  byId("grade").onchange = function () {
    callerDraw(caller.place());
  };
  all("[data-add]").forEach(function (b) {
    b.onclick = function () {
      min = Math.min(1440, Math.max(0, min + +b.dataset.add));
      minutesDraw();
    };
  });
  function work(many, strokes) {
    const row = { abrasive: byId("grade").value, position: side(), minutes: tidy(many) };
    if (strokes) row.strokes = String(strokes);
    entered(
      "grinding",
      [fit("grinding", row)],
      tidy(many) + " min, " + row.abrasive + ", " + row.position,
    );
    waitingMinutes += many;
  }
  byId("min-enter").onclick = function () {
    if (min > 0) {
      work(min);
      min = 0;
      minutesDraw();
    }
  };

  // any other table: the form of the pages that compute, made from the schema for the file as it stands
  const titles = {
    grinding: "Grinding",
    sagitta: "Depth",
    spherometer: "Spherometer",
    sun: "Sun",
    lamp: "Lamp",
    zones: "Zones",
    diary: "Diary",
    observations: "Nights",
  };
  let shown = "";
  function fillTables() {
    const box = byId("table"),
      there = [
        "diary",
        "spherometer",
        "lamp",
        "sun",
        "sagitta",
        "grinding",
        "zones",
        "observations",
      ].filter(
        function (t) {
          return facts.forms[t];
        },
      );
    if (box.options.length !== there.length) {
      const before = box.value;
      box.replaceChildren.apply(
        box,
        there.map(function (t) {
          return new Option(titles[t], t);
        }),
      );
      if (there.indexOf(before) >= 0) box.value = before;
      box.onchange = fields;
    }
    // what somebody is typing stays
    if (
      !all("input", byId("form-place")).some(function (x) {
        return x.dataset.typed;
      })
    ) fields();
  }
  function fields() {
    const name = byId("table").value, place = byId("form-place"), markup = facts.forms[name] || "";
    if (!markup) {
      place.replaceChildren(
        el("p", "There is a form here when the leader has mended mirror.yaml."),
      );
      return;
    }
    if (markup === shown && place.querySelector("form")) return;
    shown = markup;
    place.replaceChildren(
      document.importNode(
        new DOMParser().parseFromString(markup, "text/html").body.firstElementChild,
        true,
      ),
    );
    const f = place.querySelector("form");
    f.addEventListener("input", function (event) {
      event.target.dataset.typed = "1";
    });
    all("[data-word]", f).forEach(function (b) {
      b.onclick = function () {
        const box = byId(b.dataset.into);
        box.value = b.dataset.word;
        box.dataset.typed = "1";
      };
    });
    all("[data-put]", f).forEach(function (b) {
      b.onclick = function () {
        const box = byId(b.dataset.into);
        box.value += b.dataset.put;
        box.focus();
      };
    });
    f.onsubmit = function (event) {
      event.preventDefault();
      const row = {}, says = all("[data-refusal]", f);
      all("input", f).forEach(function (box) {
        if (box.value.trim()) {
          row[box.name] = box.inputMode === "decimal" ? plain(box.value) : box.value.trim();
        }
      });
      says.forEach(function (s) {
        s.textContent = "";
      });
      if (!Object.keys(row).length) {
        says[says.length - 1].textContent = "Type the reading first.";
        return;
      }
      entered(
        name,
        [row],
        Object.keys(row).map(function (k) {
          return row[k];
        }).join(", "),
      );
      shown = "";
      fields();
    };
  }

  // the caller: the disc steps and never glides; turns add up on the drawing
  const still = matchMedia("(prefers-reduced-motion: reduce)");
  function disc(cx, i, name, turned) {
    const rule = caller.ofRule(),
      by = i ? rule.lower : rule.upper,
      a = turned * by % 360,
      z = a + by,
      r = 76;
    const p = function (deg, q) {
      const t = (deg - 90) * Math.PI / 180;
      return (cx + q * Math.cos(t)).toFixed(1) + "," + (88 + q * Math.sin(t)).toFixed(1);
    };
    return '<circle class="' + (i ? "lower" : "upper") + '" cx="' + cx + '" cy="88" r="' + r +
      '"/><path class="from" d="M' + p(a, r) + "L" + p(a, r - 18) + '"/><path class="to" d="M' +
      p(z, r) + "L" + p(z, r - 24) + '"/><path class="arc" d="M' + p(a + 3, 50) + "A50,50 0 " +
      (by > 180 ? 1 : 0) + " 1 " + p(z - 11, 50) + '"/><path class="head" d="M' + p(z - 1, 50) +
      "L" + p(z - 15, 42) + "L" + p(z - 15, 58) + 'Z"/><text x="' + cx +
      '" y="96" text-anchor="middle" font-family="var(--serif)" font-size="25" fill="currentColor">' +
      by + '°</text><text x="' + cx +
      '" y="184" text-anchor="middle" font-size="14" fill="currentColor">' + name + "</text>";
  }
  let drawn = "";
  function callerDraw(at) {
    const rule = caller.ofRule(),
      isMirror = side() === "mirror on top",
      upper = isMirror ? "mirror" : "tool",
      lower = isMirror ? "tool" : "mirror",
      isOn = caller.running(),
      isTurn = isOn && at.way === "turn";
    caller.names(upper, lower);
    byId("charge-of").textContent = byId("grade").value + ", " + side();
    byId("upper-name").textContent = upper;
    byId("lower-name").textContent = lower;
    byId("n").textContent = at.done;
    byId("of").textContent = "of " + rule.strokes + " strokes";
    byId("way").textContent = isOn ? at.way : "ready";
    byId("upper").setAttribute(
      "transform",
      "translate(" + (still.matches || !isOn || isTurn ? 0 : at.way === "back" ? -33 : 33) + ",0)",
    );
    const seconds = caller.seconds();
    byId("charge").textContent = Math.floor(seconds / 60) + " min " +
      ("0" + Math.floor(seconds % 60)).slice(-2) + " s";
    byId("in-all").textContent = Math.floor(minutes() + seconds / 60) + " min";
    byId("strokes").classList.toggle("turning", isTurn);
    const call = (isTurn ? "Turn now: " : "Next turn: ") + upper + " " + rule.upper + "°, " +
      lower +
      " " + rule.lower + "°";
    if (byId("call").textContent !== call) byId("call").textContent = call;
    const picture = at.set + call;
    if (picture !== drawn) {
      drawn = picture;
      byId("discs").replaceChildren(
        svg(
          'viewBox="0 0 358 190" width="100%" role="img" aria-label="Seen from above: turn the ' +
            upper + " on by " + rule.upper + " degrees and the " + lower + " by " + rule.lower +
            ' degrees, each always one way.">' + disc(86, 0, upper + ", above", at.set) +
            disc(272, 1, lower + ", below", at.set),
        ),
      );
    }
    byId("pace").textContent = caller.pace() + " strokes a minute";
    byId("begin").textContent = isOn ? "Pause" : seconds > 0 ? "Go on" : "Begin";
    byId("spent").disabled = seconds < 1;
    byId("sound").textContent = "Sound is " + (caller.hasSound() ? "on" : "off");
    byId("sound").setAttribute("aria-pressed", caller.hasSound());
  }
  caller.on(callerDraw);
  // the screen stays on where the browser lets a page ask for that; else it is said
  let lock;
  function stayOn(on) {
    if (!on) {
      if (lock) lock.release();
      lock = undefined;
      return;
    }
    if (!navigator.wakeLock) {
      byId("dark").textContent = caller.hasSound()
        ? "This browser lets the screen go dark; with sound on the beat may go on behind it. Try it once, and set the phone’s screen to stay on where it does not."
        : "This browser lets the screen go dark, and the beat stops with it: switch the sound on, or set the phone’s screen to stay on.";
      return;
    }
    navigator.wakeLock.request("screen").then(function (l) {
      lock = l;
    }, function () {
      byId("dark").textContent =
        "The phone lets the screen go dark now (its battery is low?): set it to stay on.";
    });
  }
  byId("begin").onclick = function () {
    if (caller.running()) {
      caller.pause();
      stayOn(false);
    } else {
      caller.begin();
      stayOn(true);
    }
  };
  byId("sound").onclick = function () {
    caller.sound(!caller.hasSound());
    callerDraw(caller.place());
  };
  byId("slower").onclick = function () {
    caller.pace(-2);
    callerDraw(caller.place());
  };
  byId("faster").onclick = function () {
    caller.pace(2);
    callerDraw(caller.place());
  };
  function whole() {
    return Math.max(1, Math.round(caller.seconds() / 60));
  }
  byId("spent").onclick = function () {
    if (caller.running()) {
      caller.pause();
      stayOn(false);
    }
    byId("question-text").textContent = "Enter " + whole() +
      (whole() === 1 ? " minute, " : " minutes, ") + byId("grade").value + ", " + side() + "?";
    byId("question").hidden = false;
    byId("caller-keys").hidden = true;
    byId("question").focus();
  };
  byId("not-yet").onclick = function () {
    byId("question").hidden = true;
    byId("caller-keys").hidden = false;
    byId("begin").focus();
  };
  byId("yes").onclick = function () {
    byId("not-yet").onclick();
    work(whole(), caller.strokes());
    caller.clear();
  };

  // a photograph from the camera
  all("[data-off]").forEach(function (b) {
    b.onclick = function () {
      press(byId("offsides"), b);
    };
  });
  byId("camera").onchange = function () {
    const file = this.files[0], says = byId("photo-says");
    if (!file) return;
    if (file.size > 20e6) {
      says.textContent = "The picture has more than 20 MB: set the camera to 12 megapixels.";
      return;
    }
    if (file.type !== "image/jpeg" && file.type !== "image/png") {
      says.textContent =
        "The picture is no JPEG: on an iPhone choose Settings, Camera, Formats, Most Compatible.";
      return;
    }
    const i = new Image();
    i.id = "photo";
    i.alt = "Your photograph";
    i.src = URL.createObjectURL(file);
    byId("photo-place").replaceChildren(i);
    byId("take").textContent = "Take another";
    const sign = pressed(byId("offsides")).dataset.off === "-" ? "-" : "",
      row = fit("ronchi", {
        photo: "x",
        lines_per_mm: plain(byId("lines").value),
        offset_mm: sign + plain(byId("offset").value),
      });
    queue.photo(file, row, "bands, " + sign + byId("offset").value + " mm").then(function () {
      says.textContent = queue.waiting()
        ? "Waits on this phone, and goes by itself."
        : "Sent to the room.";
    });
  };

  try {
    facts = JSON.parse(localStorage.getItem(kept) || "null");
  } catch {
    facts = null;
  }
  stackDraw();
  view();
  if (facts) draw();
  const hears = new EventSource("/api/events");
  hears.onmessage = ask;
  hears.onopen = function () {
    queue.send();
    ask();
  };
  hears.onerror = function () {
    heard(false);
  };
  ask();
  queue.send();
})();
