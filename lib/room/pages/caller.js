// The caller: a beat for strokes, heard, felt and seen. One set with its turn is one sound that repeats by itself, so that it
// goes on where a browser plays on behind a dark screen; the count follows the sound's own clock.
globalThis.roomCaller = (function () {
  "use strict";
  let audio,
    source,
    hasSound = false,
    pace = 40,
    rule = { strokes: 8, upper: 150, lower: 50 };
  const pause = 5;
  let running = false,
    from = 0,
    before = 0,
    earlier = { seconds: 0, strokes: 0 },
    last = "",
    tell = function () {},
    timer;
  let names = ["mirror", "tool"];

  function stroke() {
    return 60 / pace;
  }
  function length() {
    return rule.strokes * stroke() + pause;
  }
  function clock() {
    return source && audio ? audio.currentTime : performance.now() / 1000;
  }
  // seconds since the pace was last set
  function elapsed() {
    return before + (running ? clock() - from : 0);
  }
  // one set as a sound: a click forward, a lower one back, two high ones at the turn
  function set() {
    const rate = audio.sampleRate,
      buffer = audio.createBuffer(1, Math.round(length() * rate), rate),
      data = buffer.getChannelData(0);
    function click(at, pitch) {
      const start = Math.round(at * rate);
      for (let i = 0; i < 0.05 * rate; i += 1) {
        data[start + i] += 0.3 * Math.sin(2 * Math.PI * pitch * i / rate) *
          Math.exp(-i / (0.012 * rate));
      }
    }
    for (let s = 0; s < rule.strokes; s += 1) {
      click(s * stroke(), 880);
      click((s + 0.5) * stroke(), 660);
    }
    click(rule.strokes * stroke(), 1320);
    click(rule.strokes * stroke() + 0.16, 1320);
    return buffer;
  }
  function silence() {
    if (source) {
      try {
        source.stop();
      } catch { /* was over */ }
      source = undefined;
    }
  }
  // the clock changes between the sound's and the page's: what has passed is kept over it
  function restart() {
    before = elapsed();
    silence();
    if (running && hasSound) {
      try {
        audio = audio || new (globalThis.AudioContext || globalThis.webkitAudioContext)();
        audio.resume();
        source = audio.createBufferSource();
        source.buffer = set();
        source.loop = true;
        source.connect(audio.destination);
        source.start(audio.currentTime, before % length());
      } catch {
        source = undefined;
      }
    }
    from = clock();
  }
  // where in the work a number of seconds is: which set, how many strokes of it, forward, back, or the turn
  function place() {
    const seconds = elapsed(),
      n = Math.floor(seconds / length()),
      inside = seconds - n * length(),
      half = Math.floor(inside / (stroke() / 2));
    if (inside >= rule.strokes * stroke()) {
      return { set: n, done: rule.strokes, way: "turn", half: 2 * rule.strokes };
    }
    return { set: n, done: Math.floor(half / 2), way: half % 2 ? "back" : "forward", half: half };
  }
  function feel(isTurn) {
    if (navigator.vibrate) navigator.vibrate(isTurn ? [60, 40, 60] : 25);
  }
  function speak(words) {
    if (!hasSound || !globalThis.speechSynthesis || !globalThis.SpeechSynthesisUtterance) return;
    const said = new SpeechSynthesisUtterance(words);
    said.lang = "en";
    speechSynthesis.cancel();
    speechSynthesis.speak(said);
  }
  function tick() {
    const at = place(), mark = at.set + " " + at.half;
    if (mark !== last) {
      if (at.way === "turn") {
        feel(true);
        speak(api.words());
      } else if (at.way === "forward") feel(false);
      last = mark;
    }
    tell(at);
  }
  const ones = [
    "",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
    "eleven",
    "twelve",
    "thirteen",
    "fourteen",
    "fifteen",
    "sixteen",
    "seventeen",
    "eighteen",
    "nineteen",
  ];
  const tens = [
    "",
    "",
    "twenty",
    "thirty",
    "forty",
    "fifty",
    "sixty",
    "seventy",
    "eighty",
    "ninety",
  ];
  function spoken(n) {
    if (n >= 100) {
      return (n < 200 ? "a" : ones[Math.floor(n / 100)]) + " hundred" +
        (n % 100 ? " and " + spoken(n % 100) : "");
    }
    return n < 20 ? ones[n] : tens[Math.floor(n / 10)] + (n % 10 ? "-" + ones[n % 10] : "");
  }
  const api = {
    rule: function (given) {
      if (running || elapsed() > 0) return;
      rule = given;
      pace = given.pace || pace;
    },
    on: function (act) {
      tell = act;
    },
    names: function (upper, lower) {
      names = [upper, lower];
    },
    begin: function () {
      running = true;
      from = clock();
      restart();
      clearInterval(timer);
      timer = setInterval(tick, 50);
      tick();
    },
    pause: function () {
      before = elapsed();
      running = false;
      silence();
      clearInterval(timer);
      tell(place());
    },
    running: function () {
      return running;
    },
    hasSound: function () {
      return hasSound;
    },
    sound: function (on) {
      before = elapsed();
      from = clock();
      hasSound = on;
      if (running) restart();
    },
    // by so many strokes a minute more; what was done at the old pace is kept
    pace: function (by) {
      if (by) {
        const seconds = elapsed(), at = place();
        earlier = {
          seconds: earlier.seconds + seconds,
          strokes: earlier.strokes + at.set * rule.strokes + at.done,
        };
        pace = Math.min(80, Math.max(20, pace + by));
        before = 0;
        from = clock();
        if (running) {
          silence();
          from = clock();
          before = 0;
          restart();
        }
      }
      return pace;
    },
    seconds: function () {
      return earlier.seconds + elapsed();
    },
    strokes: function () {
      const at = place();
      return earlier.strokes + at.set * rule.strokes + at.done;
    },
    place: place,
    clear: function () {
      before = 0;
      from = clock();
      earlier = { seconds: 0, strokes: 0 };
      last = "";
      tell(place());
    },
    words: function () {
      return names[0] + " by " + spoken(rule.upper) + ", " + names[1] + " by " + spoken(rule.lower);
    },
    ofRule: function () {
      return rule;
    },
  };
  return api;
})();
