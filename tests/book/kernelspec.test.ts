import assert from "node:assert/strict";
import { delimiter, join } from "node:path";
import {
  installKernel,
  jupyterPath,
  KERNEL_NAME,
  KERNEL_TITLE,
  kernelMetadata,
  kernelspec,
  kitJupyter,
  personsJupyter,
  uninstallKernel,
  writeKernelspec,
} from "../../lib/book/kernelspec.ts";
import { hasNbconvert, python } from "../machine.ts";
import { home, inFolder } from "./notebooks.ts";

Deno.test("kernelspec: Stop by message, no colours, this very Deno", () => {
  const { argv, interrupt_mode, env, display_name } = kernelspec();
  const [deno, , , , door, file] = argv;
  assert.deepEqual([deno, file, argv.length], [Deno.execPath(), "{connection_file}", 6]);
  assert.ok(Deno.statSync(door ?? "").isFile, "what it starts is there");
  assert.deepEqual([interrupt_mode, env, display_name], [
    "message",
    { NO_COLOR: "1" },
    KERNEL_TITLE,
  ]);
});

Deno.test("kernelspec: is written as Jupyter looks for it, again and again", async () => {
  await inFolder(async (folder) => {
    const path = await writeKernelspec(join(folder, "not", "there", "yet"));
    assert.equal(
      path,
      join(folder, "not", "there", "yet", "kernels", "deno", "kernel.json"),
    );
    assert.deepEqual(JSON.parse(await Deno.readTextFile(path)), kernelspec());
    await writeKernelspec(join(folder, "not", "there", "yet"));
  });
});

Deno.test("kernelspec: a folder that cannot be written is an error", async () => {
  await inFolder(async (folder) => {
    await Deno.writeTextFile(join(folder, "file"), "");
    await assert.rejects(writeKernelspec(join(folder, "file")));
  });
});

Deno.test("kernelspec: the kit's folder comes before whatever was there", () => {
  assert.equal(jupyterPath("/kit", ""), "/kit");
  assert.equal(jupyterPath("/kit", "/mine").split(delimiter)[0], "/kit");
  assert.match(kitJupyter, /\.jupyter$/);
});

Deno.test("kernelspec: a person's own Jupyter is where Jupyter itself looks, on each system", () => {
  const on = (os: typeof Deno.build.os, env: Record<string, string>): string =>
    personsJupyter((name) => env[name], os);
  // READ: jupyter_core 4.12.0, paths.py, jupyter_data_dir and get_home_dir (Debian python3-jupyter-core)
  for (
    const [os, env, wanted] of [
      ["linux", { HOME: "/home/asha" }, "/home/asha/.local/share/jupyter"],
      ["linux", { HOME: "/home/asha", XDG_DATA_HOME: "" }, "/home/asha/.local/share/jupyter"],
      ["linux", { HOME: "/home/asha", XDG_DATA_HOME: "/d" }, "/d/jupyter"],
      ["darwin", { HOME: "/Users/asha", XDG_DATA_HOME: "/d" }, "/Users/asha/Library/Jupyter"],
      ["windows", { HOME: "/c/asha", APPDATA: "C:\\A\\Roaming" }, "C:\\A\\Roaming\\jupyter"],
      ["windows", { HOME: "/c/asha", USERPROFILE: "C:\\A" }, "C:\\A\\.jupyter\\data"],
      ["windows", { JUPYTER_DATA_DIR: "D:\\j", APPDATA: "C:\\A" }, "D:\\j"],
    ] as const
  ) assert.equal(on(os, env), wanted);
});

Deno.test("kernelspec: for all of a person's Jupyters, and away again; another's kernel is back, an older Deno goes", async () => {
  await inFolder(async (folder) => {
    const program = join(folder, "program"), own = join(folder, "first-mirror");
    await Deno.writeTextFile(program, "a Deno");
    const spec = join(folder, "kernels", "deno", "kernel.json");
    assert.deepEqual(await uninstallKernel(folder), { had: false });
    await Deno.mkdir(join(folder, "kernels", "deno"), { recursive: true });
    await Deno.writeTextFile(spec, '{"display_name":"another"}');
    await Deno.mkdir(own);
    await Deno.writeTextFile(join(own, "deno-1.0.0"), "an older one");
    for (const time of ["first", "again"]) {
      assert.equal(await installKernel(folder, program), spec, time);
      const [deno = ""] = JSON.parse(await Deno.readTextFile(spec)).argv;
      assert.equal(await Deno.readTextFile(deno), "a Deno");
      assert.equal([...Deno.readDirSync(own)].length, 1);
    }
    assert.deepEqual(await uninstallKernel(folder), { had: true });
    assert.equal(await Deno.readTextFile(spec), '{"display_name":"another"}');
    assert.throws(() => Deno.statSync(own), Deno.errors.NotFound);
    await Deno.remove(spec);
    await installKernel(folder, program);
    assert.deepEqual(await uninstallKernel(folder), { had: true });
    assert.deepEqual([...Deno.readDirSync(join(folder, "kernels"))], []);
  });
});

Deno.test("kernelspec: what an executed notebook says of its kernel is the same every day", () => {
  const metadata = kernelMetadata();
  assert.deepEqual(metadata, kernelMetadata());
  assert.equal((metadata["kernelspec"] as { name: string }).name, KERNEL_NAME);
  assert.doesNotMatch(JSON.stringify(metadata), /\d\.\d/);
});

/** Starts the kernel as Jupyter does, stops a loop without end, and looks whether a variable is still there. */
const STOP = `
import sys
from jupyter_client.manager import start_new_kernel
manager, client = start_new_kernel(kernel_name="deno", startup_timeout=60, cwd=sys.argv[1])
import time
def value(code, timeout=20):
    got = []
    client.execute_interactive(code, timeout=timeout, allow_stdin=False, output_hook=lambda m: got.append(m))
    time.sleep(0.3)
    while True:
        try: got.append(client.get_iopub_msg(timeout=0.2))
        except Exception: break
    return [m["content"]["data"]["text/plain"] for m in got if m["msg_type"] == "execute_result"]
value("let keep = 41;")
client.execute("while (true) {}", allow_stdin=False)
time.sleep(0.7)
manager.interrupt_kernel()
time.sleep(0.7)
print(manager.is_alive(), value("keep + 1"))
client.stop_channels()
manager.shutdown_kernel(now=True)
`;

Deno.test({
  name: "kernelspec: Jupyter's Stop ends a loop and keeps the variables (needs Jupyter)",
  ignore: !hasNbconvert,
  fn: () =>
    inFolder(async (folder) => {
      await writeKernelspec(folder);
      const command = new Deno.Command(python, {
        args: ["-c", STOP, home],
        env: { JUPYTER_PATH: folder, JUPYTER_RUNTIME_DIR: join(folder, "runtime") },
        stdin: "null",
      });
      const { stdout, stderr } = await command.output();
      const decoder = new TextDecoder();
      assert.equal(decoder.decode(stdout).trim(), "True ['42']", decoder.decode(stderr));
    }),
});
