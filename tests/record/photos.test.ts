import assert from "node:assert/strict";
import { join } from "node:path";
import { crc32 } from "node:zlib";
import sharp from "sharp";
import { describe } from "../../lib/record/errors.ts";
import { jpegFromPhone, pictureKind } from "../../lib/record/photos.ts";
import { openMirror } from "../../lib/knowledge/open.ts";
import { makePhoto } from "../testing/photoGenerator.ts";
import { bandsPhoto } from "./bandsPhoto.ts";
import { read, refusals, refusalsIn, withRecord } from "./bench.ts";

const HEADER = "photo,lines_per_mm,offset_mm\n";
const table = (photo: string): { "ronchi.csv": string } => ({
  "ronchi.csv": `${HEADER}${photo},4,-5\n`,
});

const WANTED = "wanted a photograph as JPEG or PNG";
const PLACE = "ronchi.csv, line 2, column photo: found";

type Format = "jpeg" | "png" | "webp" | "tiff" | "avif" | "gif";

/** A picture of noise, so that it cannot be squeezed into its first bytes. */
async function picture(format: Format): Promise<Uint8Array> {
  const raw = new Uint8Array(64 * 64 * 3).map((_, index) => (index * 7919) % 251);
  const image = sharp(raw, { raw: { width: 64, height: 64, channels: 3 } });
  return new Uint8Array(await image.toFormat(format).toBuffer());
}

/** The first bytes of a phone's HEIC file: its box and its brand. */
const HEIC = new TextEncoder().encode("\0\0\0\x18ftypheic\0\0\0\0mif1heic");

Deno.test("pictures of the usual kinds are read, by name alone or with their folder", async () => {
  for (const format of ["jpeg", "png"] as const) {
    const bytes = await picture(format);
    assert.equal(pictureKind(bytes), format);
    for (const name of ["inside.jpg", "photos/inside.jpg"]) {
      const { ronchi } = await read({ ...table(name), "photos/inside.jpg": bytes });
      assert.deepEqual(ronchi.map(({ photo }) => photo), ["photos/inside.jpg"]);
    }
  }
});

const SVG =
  '<?xml version="1.0"?>\n<svg xmlns="http://www.w3.org/2000/svg" width="64" height="64"/>';

Deno.test("no other kind is decoded, whatever its name: each is named, and JPEG or PNG asked for", async () => {
  const others: readonly (readonly [what: string, bytes: Uint8Array])[] = [
    ["a TIFF picture", await picture("tiff")],
    ["a WebP picture", await picture("webp")],
    ["an AVIF picture", await picture("avif")],
    ["a GIF picture", await picture("gif")],
    ["a drawing", new TextEncoder().encode(SVG)],
  ];
  for (const [what, bytes] of others) {
    const [told] = await refusals({ ...table("x.jpg"), "photos/x.jpg": bytes });
    assert.equal(
      describe(told ?? { message: "" }),
      `${PLACE} "photos/x.jpg", ${what}, ${WANTED}: save it as JPEG or PNG`,
    );
  }
});

Deno.test("an offset's sign and its uncertainty are kept, the grating may be per inch", async () => {
  const { ronchi: [row] } = await read({
    "ronchi.csv": "photo,lines_per_in,offset_mm,offset_u_mm,gamma\nx.png,101.6,-5,0.5,2.2\n",
    "photos/x.png": await picture("png"),
  });
  // DERIVED: 101.6 lines in 25.4 mm are 4 in one.
  assert.equal(row?.linesPerMm.toFixed(12), "4.000000000000");
  assert.deepEqual([row?.offset, row?.offsetU, row?.gamma], [-5, 0.5, 2.2]);
});

const REFUSED:
  readonly (readonly [slip: string, photo: string, bytes: Uint8Array | undefined, told: string])[] =
    [
      [
        "missing",
        "x.jpg",
        undefined,
        'no file "photos/x.jpg", wanted the file: copy it into the folder, or mend its name',
      ],
      [
        "empty",
        "x.jpg",
        new Uint8Array(),
        `"photos/x.jpg", an empty file, ${WANTED}: copy it from the camera again`,
      ],
      [
        "a text",
        "x.jpg",
        new TextEncoder().encode("not a picture"),
        `"photos/x.jpg", which is not a picture, ${WANTED}: look at what the file is`,
      ],
      [
        "a drawing with instructions in it",
        "x.svg",
        new TextEncoder().encode('<svg xmlns="http://www.w3.org/2000/svg"><script/></svg>'),
        `"photos/x.svg", a drawing, ${WANTED}: save it as JPEG or PNG`,
      ],
      [
        "HEIC",
        "x.jpg",
        HEIC,
        `"photos/x.jpg", a HEIC picture, ${WANTED}: ` +
        jpegFromPhone(HEIC),
      ],
      [
        "outside the folder",
        "../x.jpg",
        undefined,
        '"../x.jpg", wanted a file inside the record\'s folder: copy it there and name it from there',
      ],
      [
        "outside, from the root",
        "/etc/hostname",
        undefined,
        '"/etc/hostname", wanted a file inside the record\'s folder: copy it there and name it from there',
      ],
      [
        "outside, round about",
        "photos/../../x.jpg",
        undefined,
        '"photos/../../x.jpg", wanted a file inside the record\'s folder: copy it there and name it from there',
      ],
    ];

for (const [slip, photo, bytes, told] of REFUSED) {
  Deno.test(`refused: a photograph ${slip}`, async () => {
    const files = bytes === undefined ? {} : { [`photos/${photo}`]: bytes };
    const found = await refusals({ ...table(photo), ...files });
    assert.deepEqual(found.map(describe), [`${PLACE} ${told}`]);
  });
}

Deno.test("refused: a picture cut short, as a JPEG and as a PNG", async () => {
  for (const format of ["jpeg", "png"] as const) {
    const whole = await picture(format);
    const cut = whole.subarray(0, Math.floor(whole.length / 2));
    const found = await refusals({ ...table("x.jpg"), "photos/x.jpg": cut });
    assert.deepEqual(found.map(describe), [
      `${PLACE} "photos/x.jpg", a picture that does not decode to its end, ${WANTED}: ` +
      "copy it from the camera again",
    ]);
  }
});

Deno.test("refused: a small file that would unfold to a huge picture", async () => {
  const bomb = await picture("png");
  const view = new DataView(bomb.buffer);
  // The header's width, height and check sum stand at bytes 16, 20 and 29 of a PNG file.
  view.setUint32(16, 30_000);
  view.setUint32(20, 30_000);
  view.setUint32(29, crc32(bomb.subarray(12, 29)));
  const found = await refusals({ ...table("x.png"), "photos/x.png": bomb });
  assert.match(describe(found[0] ?? { message: "" }), /a picture of 900 megapixels, wanted/);
});

Deno.test("a photograph that is a link out of the folder is refused", async () => {
  const outside = await Deno.makeTempFile();
  await Deno.writeFile(outside, await picture("jpeg"));
  await withRecord(table("x.jpg"), async (folder) => {
    await Deno.symlink(outside, join(folder, "photos", "x.jpg"));
    const lines = (await refusalsIn(folder)).map(describe);
    assert.equal(lines.length, 2);
    assert.ok(lines.every((line) => line.includes("a link that leads out of the folder")));
  });
  await Deno.remove(outside);
});

/** A photograph of bands by the generator of the trial, as grey bytes; INVENTED. */
function bands(): ReturnType<typeof sharp> {
  const made = makePhoto(bandsPhoto);
  const grey = Uint8Array.from(made.values, (v) => Math.round(255 * v));
  return sharp(grey, { raw: { width: 400, height: 380, channels: 1 } });
}

const conicOf = async (bytes: Uint8Array): Promise<number> =>
  await withRecord(
    { "ronchi.csv": `${HEADER}x.jpg,4,-10\n`, "photos/x.jpg": bytes },
    async (folder) => {
      const [photo] = (await openMirror(folder)).summary.figure?.photos ?? [];
      assert.equal(photo?.refused, undefined);
      return photo?.conic?.value ?? NaN;
    },
  );

Deno.test("a phone's picture of 48 megapixels, lying on its side by EXIF, is read upright", async () => {
  // DERIVED: 6048 x 6366 = 38.5 million pixels
  const turned = bands().rotate(270).resize({ width: 6048, height: 6366, fit: "fill" });
  const bytes = new Uint8Array(
    await turned.withMetadata({ orientation: 6 }).jpeg({ quality: 80 }).toBuffer(),
  );
  assert.ok(6048 * 6366 > 38e6);
  // INVENTED: the mirror in it is a paraboloid
  assert.ok(Math.abs(await conicOf(bytes) + 1) < 0.05);
});

Deno.test("a screenshot of a photograph, with the phone's bars above and below, is read", async () => {
  const picture = await bands().resize({ width: 1170 }).toColourspace("srgb").png().toBuffer();
  const bar = { create: { width: 1170, height: 120, channels: 3, background: "white" } } as const;
  const black = {
    width: 1170,
    height: 2532,
    channels: 4,
    background: { r: 0, g: 0, b: 0, alpha: 1 },
  } as const;
  const shot = await sharp({ create: black }).composite([
    { input: picture, top: 700, left: 0 },
    { input: bar, top: 0, left: 0 },
    { input: bar, top: 2400, left: 0 },
  ]).png().toBuffer();
  assert.ok(Math.abs(await conicOf(new Uint8Array(shot)) + 1) < 0.06);
});

Deno.test("a HEIC and a raw picture are refused with the way to a JPEG on that phone", async () => {
  const told = async (bytes: Uint8Array): Promise<string> =>
    describe((await refusals({ ...table("x.jpg"), "photos/x.jpg": bytes }))[0] ?? { message: "" });
  const with_ = (maker: string): Uint8Array =>
    new Uint8Array([...HEIC, ...new TextEncoder().encode(`....Exif..${maker}\0`)]);
  assert.match(
    await told(with_("Apple\0iPhone")),
    /a HEIC picture.*: on an iPhone choose Settings, Camera, Formats, Most Compatible[^;]*;[^;]*$/,
  );
  assert.match(await told(with_("samsung\0SM-G99")), /: on an Android phone choose JPEG/);
  assert.match(await told(HEIC), /on an iPhone.*on an Android phone/);
  // a TIFF of one entry, the tag of a raw picture's version
  const raw = new Uint8Array([
    0x49,
    0x49,
    0x2a,
    0,
    8,
    0,
    0,
    0,
    1,
    0,
    0x12,
    0xc6,
    1,
    0,
    4,
    0,
    0,
    0,
    1,
    4,
    0,
    0,
    0,
    0,
    0,
    0,
  ]);
  assert.equal(pictureKind(raw), "raw");
  assert.match(await told(raw), /a raw picture \(DNG\).*JPEG/);
});
