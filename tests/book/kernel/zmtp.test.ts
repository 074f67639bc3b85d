import assert from "node:assert/strict";
import fc from "fast-check";
import {
  encodeFrame,
  encodeMessage,
  greeting,
  joinBytes,
  readyCommand,
  ZmtpSocket,
} from "../../../lib/book/kernel/zmtp.ts";

const bytes = (text: string): Uint8Array => new TextEncoder().encode(text);

/** A peer that shakes hands like a kernel and then sends and notes what the test wants. */
async function withPeer(
  talk: (
    send: (wire: Uint8Array) => Promise<void>,
    read: () => Promise<Uint8Array>,
  ) => Promise<void>,
  client: (port: number) => Promise<void>,
): Promise<void> {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const peer = (async (): Promise<void> => {
    const connection = await listener.accept();
    const send = async (wire: Uint8Array): Promise<void> => {
      for (let at = 0; at < wire.length;) at += await connection.write(wire.subarray(at));
    };
    const read = async (): Promise<Uint8Array> => {
      const chunk = new Uint8Array(65536);
      return chunk.subarray(0, await connection.read(chunk) ?? 0);
    };
    try {
      await talk(send, read);
      // a close with bytes unread would reset the connection and lose what is on its way
      await connection.closeWrite();
      while ((await read()).length > 0);
    } finally {
      connection.close();
    }
  })();
  try {
    await client(listener.addr.port);
    await peer;
  } finally {
    listener.close();
  }
}

Deno.test("a short frame has two bytes before it, a long one nine", () => {
  // DERIVED from ZMTP 3.0, "Framing": lengths up to 255 take one byte, longer ones eight and flag bit 1
  assert.deepEqual([...encodeFrame(new Uint8Array(255)).subarray(0, 2)], [0, 255]);
  assert.deepEqual([...encodeFrame(new Uint8Array(256)).subarray(0, 9)], [
    2,
    0,
    0,
    0,
    0,
    0,
    0,
    1,
    0,
  ]);
});

Deno.test("all frames of a message but the last say that more follow", () => {
  const wire = encodeMessage([bytes("a"), bytes(""), bytes("b")]);
  assert.deepEqual([...wire], [1, 1, 97, 1, 0, 0, 1, 98]);
});

Deno.test("the greeting has 64 bytes, version 3.0, mechanism NULL", () => {
  // READ (from memory) ZMTP 3.0, "Version negotiation": signature FF .. 7F, version 03 00, mechanism in 20 bytes
  const hello = greeting();
  assert.equal(hello.length, 64);
  assert.deepEqual([hello[0], hello[9], hello[10], hello[11]], [0xff, 0x7f, 3, 0]);
  assert.equal(new TextDecoder().decode(hello.subarray(12, 16)), "NULL");
  assert.ok(hello.subarray(16).every((byte) => byte === 0));
});

Deno.test("READY names the kind of socket with a four-byte length", () => {
  const text = new TextDecoder("latin1").decode(readyCommand("DEALER"));
  assert.equal(text.charCodeAt(0), 4);
  assert.ok(
    text.includes("\x05READY\x0bSocket-Type\x00\x00\x00\x06DEALER\x08Identity\x00\x00\x00\x00"),
  );
});

Deno.test("whatever was sent arrives whole, however TCP cuts it and however long it is", async () => {
  const messages = fc.array(
    fc.array(fc.uint8Array({ maxLength: 700 }), { minLength: 1, maxLength: 4 }),
    {
      minLength: 1,
      maxLength: 4,
    },
  );
  await fc.assert(
    fc.asyncProperty(messages, fc.integer({ min: 1, max: 900 }), async (sent, cut) => {
      const wire = joinBytes(sent.map(encodeMessage));
      await withPeer(async (send) => {
        await send(joinBytes([greeting(), readyCommand("DEALER")]));
        for (let at = 0; at < wire.length; at += cut) await send(wire.subarray(at, at + cut));
      }, async (port) => {
        const socket = await ZmtpSocket.connect(port, "DEALER");
        for (const message of sent) {
          const got = await socket.receive();
          assert.deepEqual(got?.map((frame) => [...frame]), message.map((frame) => [...frame]));
        }
        assert.equal(await socket.receive(), undefined);
        socket.close();
      });
    }),
    { numRuns: 25 },
  );
});

Deno.test("a message of 5 MB arrives whole", async () => {
  const big = new Uint8Array(5_000_000).fill(7);
  await withPeer(async (send) => {
    await send(joinBytes([greeting(), readyCommand("DEALER"), encodeMessage([big, bytes("end")])]));
  }, async (port) => {
    const socket = await ZmtpSocket.connect(port, "DEALER");
    const got = await socket.receive();
    assert.deepEqual(got?.map((frame) => frame.length), [big.length, 3]);
    assert.ok(got?.[0]?.every((byte) => byte === 7));
    socket.close();
  });
});

Deno.test("commands between messages are passed over", async () => {
  await withPeer(async (send) => {
    await send(joinBytes([greeting(), readyCommand("DEALER")]));
    await send(joinBytes([encodeFrame(bytes("\x04PING"), 4), encodeMessage([bytes("news")])]));
  }, async (port) => {
    const socket = await ZmtpSocket.connect(port, "DEALER");
    assert.deepEqual(await socket.receive(), [bytes("news")]);
    socket.close();
  });
});

Deno.test("a subscriber asks for everything and answers each packet at once", async () => {
  let heard = new Uint8Array(0);
  await withPeer(async (send, read) => {
    const until = async (length: number): Promise<void> => {
      while (heard.length < length) heard = new Uint8Array(joinBytes([heard, await read()]));
    };
    await send(joinBytes([greeting(), readyCommand("DEALER")]));
    const handshake = 64 + readyCommand("SUB").length + 3;
    await until(handshake);
    await send(encodeMessage([bytes("news")]));
    await until(handshake + 4);
    assert.deepEqual([...heard.subarray(handshake - 3, handshake)], [0, 1, 1]);
    assert.deepEqual([...heard.subarray(handshake)], [0, 2, 0, 0x2d]);
  }, async (port) => {
    const socket = await ZmtpSocket.connect(port, "SUB");
    assert.deepEqual(await socket.receive(), [bytes("news")]);
    await socket.receive();
    socket.close();
  });
});

Deno.test("what does not speak ZMTP is refused, naming the port", async () => {
  await withPeer(async (send) => {
    await send(bytes("HTTP/1.1 400 Bad Request\r\n\r\n".padEnd(80)));
  }, async (port) => {
    await assert.rejects(
      ZmtpSocket.connect(port, "DEALER"),
      new RegExp(`requires a ZMTP 3 peer.*${port}`),
    );
  });
});

Deno.test("a peer that closes in the middle of a message ends the messages, without an exception", async () => {
  await withPeer(async (send) => {
    await send(joinBytes([greeting(), readyCommand("DEALER"), new Uint8Array([1, 9, 1, 2, 3])]));
  }, async (port) => {
    const socket = await ZmtpSocket.connect(port, "DEALER");
    assert.equal(await socket.receive(), undefined);
    socket.close();
    socket.close();
  });
});

Deno.test("nobody listening is an error at once", async () => {
  const listener = Deno.listen({ hostname: "127.0.0.1", port: 0 });
  const { port } = listener.addr;
  listener.close();
  await assert.rejects(ZmtpSocket.connect(port, "DEALER"), Deno.errors.ConnectionRefused);
});
