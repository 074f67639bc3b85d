/** The faces of Jupyter, each driven as a reader does: cells are written, run, stopped, saved and opened again. */
import { createHash } from "node:crypto";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import type { Locator, Page } from "playwright-core";
import { classicNotebook, type FrontEnd, jupyterNotebook } from "./jupyterServer.ts";

/** One face. Numbers of cells are those of the code cells, from 0. */
export interface Face extends FrontEnd {
  readonly name: string;
  readonly version: string;
  /** where a notebook is found at the server */
  readonly address: (name: string) => string;
  /** settles when the notebook's kernel is there */
  ready(page: Page): Promise<void>;
  /** answers what the face asks of everybody when it is first opened */
  settle?(page: Page): Promise<void>;
  runAll(page: Page): Promise<void>;
  /** begins to run a cell with a text of ours in it */
  run(page: Page, cell: number, source: string): Promise<void>;
  /** presses the button that stops */
  stop(page: Page): Promise<void>;
  /** asks for a new kernel, and says yes where it is asked whether it is meant */
  restart(page: Page): Promise<void>;
  save(page: Page): Promise<void>;
  isTrusted(page: Page): Promise<boolean>;
  /** what is shown below a cell */
  shown(page: Page, cell: number): Locator;
  /** all code cells, as the notebook holds them now */
  cells(page: Page): Promise<readonly CellNow[]>;
}

/** A code cell, as a notebook holds it. */
export interface CellNow {
  readonly isRunning: boolean;
  readonly count: number | null;
  readonly outputs: readonly {
    readonly output_type: string;
    readonly data?: Readonly<Record<string, unknown>>;
    readonly evalue?: string;
  }[];
}

const WIDGET = "jupyterapp.shell.currentWidget";
const CODE = `${WIDGET}.content.widgets.filter(({ model }) => model.type === "code")`;

/** Those of the newer kind hold their whole program open to the page, where it is started so. */
const modern = {
  args: (folder: string) => [
    ...["--ServerApp.port_retries=0", "--IdentityProvider.token=", "--expose-app-in-browser"],
    `--ServerApp.root_dir=${folder}`,
  ],
  async ready(page: Page): Promise<void> {
    await page.waitForFunction(
      `globalThis.jupyterapp?.shell?.currentWidget?.sessionContext?.session?.kernel?.connectionStatus === "connected"`,
    );
  },
  async runAll(page: Page): Promise<void> {
    await page.evaluate(`void jupyterapp.commands.execute("notebook:run-all-cells")`);
  },
  async run(page: Page, cell: number, source: string): Promise<void> {
    await page.evaluate(
      `{ const one = ${CODE}[${cell}], { content } = ${WIDGET}; one.model.sharedModel.setSource(${
        JSON.stringify(source)
      }); content.activeCellIndex = content.widgets.indexOf(one); void jupyterapp.commands.execute("notebook:run-cell"); }`,
    );
  },
  async stop(page: Page): Promise<void> {
    await page.locator(`[data-jp-item-name="interrupt"]`).first().click();
  },
  async restart(page: Page): Promise<void> {
    await page.locator(`[data-jp-item-name="restart"]`).first().click();
    await page.locator(".jp-Dialog .jp-mod-accept").click();
    await page.waitForFunction(`${WIDGET}.sessionContext.session.kernel.status === "idle"`);
  },
  async save(page: Page): Promise<void> {
    await page.evaluate(`jupyterapp.commands.execute("docmanager:save")`);
  },
  isTrusted: (page: Page): Promise<boolean> =>
    page.evaluate(`${CODE}.every(({ model }) => model.trusted)`),
  shown: (page: Page, cell: number): Locator =>
    page.locator(".jp-CodeCell").nth(cell).locator(".jp-OutputArea-output"),
  cells: (page: Page): Promise<readonly CellNow[]> =>
    page.evaluate(
      `${CODE}.map(({ model }) => ({ isRunning: (model.executionState ?? "idle") !== "idle", count: model.executionCount, outputs: model.outputs.toJSON() }))`,
    ),
};

const CLASSIC = `Jupyter.notebook.get_cells().filter((one) => one.cell_type === "code")`;

const classic = {
  ...classicNotebook,
  address: (name: string) => `/notebooks/${name}`,
  async ready(page: Page): Promise<void> {
    await page.waitForFunction("globalThis.Jupyter?.notebook?.kernel?.is_connected()");
  },
  async runAll(page: Page): Promise<void> {
    await page.evaluate(`document.querySelector("#run_all_cells a").click()`);
  },
  async run(page: Page, cell: number, source: string): Promise<void> {
    await page.evaluate(
      `{ const one = ${CLASSIC}[${cell}]; one.set_text(${
        JSON.stringify(source)
      }); void one.execute(); }`,
    );
  },
  async stop(page: Page): Promise<void> {
    await page.locator(`button[data-jupyter-action="jupyter-notebook:interrupt-kernel"]`).click();
  },
  async restart(page: Page): Promise<void> {
    await page.locator(`button[data-jupyter-action="jupyter-notebook:confirm-restart-kernel"]`)
      .click();
    await page.locator(".modal .btn-danger").click();
    await page.waitForFunction("Jupyter.notebook.kernel.is_connected()");
  },
  async save(page: Page): Promise<void> {
    await page.evaluate("Jupyter.notebook.save_notebook()");
  },
  isTrusted: (page: Page): Promise<boolean> => page.evaluate("Jupyter.notebook.trusted"),
  shown: (page: Page, cell: number): Locator =>
    page.locator(".code_cell").nth(cell).locator(".output_subarea"),
  cells: (page: Page): Promise<readonly CellNow[]> =>
    page.evaluate(
      `${CLASSIC}.map((one) => ({ isRunning: one.element.hasClass("running"), count: typeof one.input_prompt_number === "number" ? one.input_prompt_number : null, outputs: one.output_area.toJSON() }))`,
    ),
};

/** The packages of the newer faces, each with its version; what they need is installed nowhere else. */
const REQUIREMENTS = new URL("../trials/frontEnds.requirements.txt", import.meta.url);

/** Puts the newer faces into a folder of their own, once for each list. @returns its programs' folder */
async function installed(): Promise<string> {
  const mark = createHash("sha256").update(await Deno.readFile(REQUIREMENTS)).digest("hex");
  const kept = fileURLToPath(new URL("../../book/.frontEnds", import.meta.url));
  const folder = join(kept, mark.slice(0, 12)), programs = join(folder, "bin");
  const isWhole = await Deno.stat(join(folder, "whole")).then(() => true, () => false);
  if (isWhole) return programs;
  const say = async (program: string, ...args: string[]): Promise<void> => {
    const { success } = await new Deno.Command(program, { args, stdin: "null" }).spawn().status;
    if (!success) throw new Error(`${program} ${args.join(" ")} ended badly`);
  };
  await say("/usr/bin/python3", "-m", "venv", "--clear", folder);
  const list = fileURLToPath(REQUIREMENTS);
  await say(join(programs, "pip"), "install", "--quiet", "--no-deps", "-r", list);
  await Deno.writeTextFile(join(folder, "whole"), "");
  return programs;
}

async function versionOf(program: string): Promise<string> {
  const { stdout } = await new Deno.Command(program, { args: ["--version"] }).output();
  return new TextDecoder().decode(stdout).trim();
}

/** All faces that this machine has or can fetch. */
export async function faces(): Promise<readonly Face[]> {
  const programs = await installed();
  const lab = join(programs, "jupyter-lab"), notebook = join(programs, "jupyter-notebook");
  return [
    {
      ...modern,
      name: "JupyterLab",
      settle: (page) =>
        page.locator(".Toastify button", { hasText: /^No$/ }).click({ timeout: 10_000 })
          .catch(() => {}),
      program: lab,
      version: await versionOf(lab),
      address: (name) => `/lab/tree/${name}?reset`,
    },
    {
      ...modern,
      name: "Notebook",
      program: notebook,
      version: await versionOf(notebook),
      address: (name) => `/notebooks/${name}`,
    },
    ...(jupyterNotebook === undefined
      ? []
      : [{ ...classic, name: "classic Notebook", version: jupyterNotebook }]),
  ];
}
