/** A reader of records in a thread of its own: a folder in, its row or its refusal out. */
import { readMember } from "./classOfRecords.ts";

/** As much of the thread's own door as is used here. */
const door = self as unknown as {
  onmessage: (event: MessageEvent<{ folder: string; today?: string }>) => void;
  readonly postMessage?: (message: unknown) => void;
};

// outside a thread, where the tests load every file, there is no door
const send = door.postMessage;
if (send !== undefined) {
  door.onmessage = async ({ data }): Promise<void> =>
    send(await readMember(data.folder, data.today));
  send("ready");
}
