import assert from "node:assert/strict";
import { delimiter, join } from "node:path";
import {
  jupyterPath,
  KERNEL_NAME,
  KERNEL_TITLE,
  kernelMetadata,
  kernelspec,
  kitJupyter,
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
