/** What the kit's own runner leaves in the kernel: it waits for a mark behind every cell, so that no output comes late. */
export const runnersMark: unique symbol = Symbol.for("first-mirror.runner");
