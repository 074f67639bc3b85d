/** A stream's lines. */
export async function* linesOf(stream: ReadableStream<Uint8Array>): AsyncGenerator<string> {
  let rest = "";
  const decoder = new TextDecoder();
  for await (const part of stream) {
    const lines = (rest + decoder.decode(part, { stream: true })).split("\n");
    rest = lines.pop() ?? "";
    yield* lines;
  }
}
