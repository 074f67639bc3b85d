// The page's few movements. A classic script: works from disk. Nothing moves unless the reader moves it.
(function () {
  const root = document.documentElement;
  root.classList.add("js");
  const button = document.getElementById("theme");
  if (!button) return;
  function isDark() {
    if (root.dataset.theme) return root.dataset.theme === "dark";
    return matchMedia("(prefers-color-scheme: dark)").matches;
  }
  function name() {
    button.textContent = isDark() ? "Light page" : "Dark page";
  }
  name();
  button.addEventListener("click", function () {
    root.dataset.theme = isDark() ? "light" : "dark";
    try {
      localStorage.setItem("first-mirror-theme", root.dataset.theme);
    } catch (_) { /* kept for this page only */ }
    name();
  });
})();
