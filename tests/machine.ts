/** What this machine has beside Deno. Tests that need more than is here are skipped by name. */

function runs(command: string, ...args: string[]): boolean {
  try {
    return new Deno.Command(command, { args, stdout: "null", stderr: "null" }).outputSync().success;
  } catch {
    return false;
  }
}

/** Path of a Chromium, from the environment or Debian's place; undefined where there is none. */
export const chromium: string | undefined = [Deno.env.get("CHROMIUM"), "/usr/bin/chromium"].find(
  (path) => path !== undefined && runs(path, "--version"),
);

/** Debian's Python, which sees Debian's packages whatever else is on the PATH. */
export const python = "/usr/bin/python3";
export const hasNbconvert: boolean = runs(python, "-c", "import nbconvert, nbclient, nbformat");
export const hasNumpy: boolean = runs(python, "-c", "import numpy, scipy");

const packages = new Map<string, boolean>();

/** Whether that Python has a package; asked once each. */
export function pythonHas(name: string): boolean {
  const known = packages.get(name);
  if (known !== undefined) return known;
  const has = runs(python, "-c", `import ${name}`);
  packages.set(name, has);
  return has;
}

const there = (path: string): boolean => {
  try {
    return Deno.statSync(path).isFile;
  } catch {
    return false;
  }
};

/** Debian's Firefox, where it is. */
export const firefox: string | undefined = ["/usr/bin/firefox-esr"].find(there);

/** Debian's WebKitGTK with its driver, and a screen that only memory holds. */
export const webkit:
  | { readonly driver: string; readonly browser: string; readonly screen: string }
  | undefined = webkitHere();

function webkitHere(): typeof webkit {
  const browser = ["x86_64", "aarch64"]
    .map((cpu) => `/usr/lib/${cpu}-linux-gnu/webkit2gtk-4.1/MiniBrowser`).find(there);
  const driver = "/usr/bin/WebKitWebDriver", screen = "/usr/bin/Xvfb";
  return browser !== undefined && there(driver) && there(screen)
    ? { driver, browser, screen }
    : undefined;
}
