import assert from "node:assert/strict";
import { packed, unpacked } from "../../lib/living/packed.ts";

Deno.test("packed: a program comes back as it was, in letters that end no script, and is shorter", () => {
  const program = "const glass = `</script> µ ½ 𝑅`;\n".repeat(5000);
  const way = packed(program);
  assert.match(way, /^[A-Za-z0-9+/]+=*$/);
  assert.ok(way.length < program.length / 10, `${way.length}`);
  assert.equal(unpacked(way), program);
  assert.equal(unpacked(packed("")), "");
  assert.throws(() => unpacked("////"));
});
