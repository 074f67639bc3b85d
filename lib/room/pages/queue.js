// What was entered and is not yet in the room: kept on this phone, sent in its order, each with its own id, until it is there.
globalThis.roomQueue = (function () {
  "use strict";
  const folder = decodeURIComponent(location.pathname.split("/")[2] || ""),
    key = "first-mirror-room " + folder;
  const api = "/api/benches/" + encodeURIComponent(folder);
  let busy = false,
    timer,
    wait = 1000,
    memory = [];
  const pictures = {};
  const listeners = {
    changed: function () {},
    taken: function () {},
    refused: function () {},
    shut: function () {},
  };

  function read() {
    try {
      return JSON.parse(localStorage.getItem(key) || "[]");
    } catch {
      return memory;
    }
  }
  function write(list) {
    memory = list;
    try {
      localStorage.setItem(key, JSON.stringify(list));
    } catch { /* kept as long as the page is open */ }
    listeners.changed(list.length);
  }
  function drop(id) {
    write(
      read().filter(function (one) {
        return one.id !== id;
      }),
    );
  }
  function newId() {
    const b = crypto.getRandomValues(new Uint8Array(16));
    let hex = "";
    b[6] = b[6] & 15 | 64;
    b[8] = b[8] & 63 | 128;
    b.forEach(function (x, i) {
      hex += (i === 4 || i === 6 || i === 8 || i === 10 ? "-" : "") +
        ("0" + x.toString(16)).slice(-2);
    });
    return hex;
  }
  // pictures are too large for the list: they lie in the browser's data base, under the same id
  function base(mode, act) {
    return new Promise(function (done, fail) {
      const open = indexedDB.open("first-mirror-room", 1);
      open.onupgradeneeded = function () {
        open.result.createObjectStore("pictures");
      };
      open.onerror = function () {
        fail(open.error);
      };
      open.onsuccess = function () {
        const asked = act(open.result.transaction("pictures", mode).objectStore("pictures"));
        asked.onsuccess = function () {
          done(asked.result);
          open.result.close();
        };
        asked.onerror = function () {
          fail(asked.error);
        };
      };
    });
  }
  function keepPicture(id, blob) {
    pictures[id] = blob;
    return base("readwrite", function (s) {
      return s.put(blob, id);
    }).catch(function () {/* in memory then */});
  }
  function picture(id) {
    return pictures[id] ? Promise.resolve(pictures[id]) : base("readonly", function (s) {
      return s.get(id);
    }).catch(function () {
      return undefined;
    });
  }
  function dropPicture(id) {
    delete pictures[id];
    base("readwrite", function (s) {
      return s.delete(id);
    }).catch(function () {});
  }

  function request(one) {
    if (one.kind === "undo") {
      return fetch(api + "/tables/" + one.table + "/rows/" + encodeURIComponent(one.of), {
        method: "DELETE",
      });
    }
    if (one.kind === "photo") {
      return picture(one.id).then(function (blob) {
        if (!blob) {
          return new Response(
            '{"error":"The picture is no longer on this phone; take it again."}',
            { status: 415 },
          );
        }
        return fetch(api + "/photos", {
          method: "POST",
          body: blob,
          headers: { "content-type": blob.type, "idempotency-key": one.id },
        });
      });
    }
    return fetch(api + "/tables/" + one.table + "/rows", {
      method: "POST",
      body: JSON.stringify({ id: one.id, rows: one.rows }),
      headers: { "content-type": "application/json" },
    });
  }
  function again() {
    clearTimeout(timer);
    timer = setTimeout(send, wait);
    wait = Math.min(wait * 2, 15000);
  }
  function send() {
    const one = read()[0];
    if (busy || !one) return;
    busy = true;
    clearTimeout(timer);
    request(one).then(function (answer) {
      return answer.json().catch(function () {
        return {};
      }).then(function (told) {
        busy = false;
        if (answer.status === 200 || answer.status === 201) {
          wait = 1000;
          drop(one.id);
          if (one.kind === "photo") {
            dropPicture(one.id);
            // the row that names the picture comes behind it, before anything else
            if (one.row) {
              const list = read();
              list.unshift({
                id: one.rowId,
                kind: "rows",
                table: "ronchi",
                rows: [Object.assign({}, one.row, { photo: told.path.replace(/^photos\//, "") })],
                words: one.words,
              });
              write(list);
            }
          }
          listeners.taken(one, told);
          send();
        } else if (answer.status === 401 || answer.status === 403) listeners.shut();
        else if (
          answer.status === 409 && one.kind !== "undo" ||
          answer.status === 404 && /folder is gone|no such bench/.test(told.error || "") ||
          answer.status === 429 || answer.status >= 500
        ) {
          listeners.changed(read().length, told.error);
          again();
        } else {
          drop(one.id);
          listeners.refused(one, told.refusals || [told.error || "The room did not take it."]);
          send();
        }
      });
    }, function () {
      busy = false;
      listeners.changed(read().length, "");
      again();
    });
  }
  function add(one) {
    const list = read();
    list.push(one);
    write(list);
    wait = 1000;
    send();
    return one.id;
  }
  addEventListener("online", function () {
    wait = 1000;
    send();
  });
  document.addEventListener("visibilitychange", function () {
    if (!document.hidden) {
      wait = 1000;
      send();
    }
  });
  return {
    api: api,
    folder: folder,
    newId: newId,
    send: send,
    on: listeners,
    waiting: function () {
      return read().length;
    },
    rows: function (table, rows, words) {
      return add({ id: newId(), kind: "rows", table: table, rows: rows, words: words });
    },
    undo: function (entry) {
      return add({
        id: newId(),
        kind: "undo",
        table: entry.table,
        of: entry.id,
        words: entry.words,
      });
    },
    photo: function (blob, row, words) {
      const id = newId();
      return keepPicture(id, blob).then(function () {
        return add({ id: id, kind: "photo", row: row, rowId: newId(), words: words });
      });
    },
  };
})();
