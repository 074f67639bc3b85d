// The key stands behind the # of the address, which no browser sends; it is changed for a cookie and taken off the address.
(function () {
  "use strict";
  const says = document.getElementById("says"), key = location.hash.slice(1);
  history.replaceState(null, "", "/enter");
  function say(text) {
    says.textContent = text;
  }
  if (!key) return say("Scan the code of your bench again: this address has no key in it.");
  fetch("/enter", { method: "POST", headers: { authorization: "Bearer " + key } }).then(
    function (answer) {
      if (answer.status === 401) {
        throw new Error("This key is not known here. Scan the newest code, or ask the leader.");
      }
      if (!answer.ok) throw new Error("The room does not let this page in. Ask the leader.");
      return answer.json();
    },
  ).then(function (told) {
    location.replace(told.to);
  }, function (error) {
    say(
      error instanceof TypeError
        ? "The room is out of reach. Is this phone in the room’s own network?"
        : error.message,
    );
  });
})();
