/** A reader of records in a thread of its own: a folder in, its row or its refusal out. */
import { readMember } from "./classMember.ts";

/** As much of the thread's own door as is used here. */
const door = self as unknown as {
  onmessage: (event: MessageEvent<string>) => void;
  postMessage(message: unknown): void;
};

door.onmessage = async ({ data }): Promise<void> => door.postMessage(await readMember(data));
door.postMessage("ready");
