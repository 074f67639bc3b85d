/** Pictures of numbers as FITS files, the open format of astronomers, which every general tool for maps reads. */

/** A line of the header beside those that the format itself asks for. */
export interface FitsCard {
  /** at most eight capitals, digits, - or _ */
  readonly key: string;
  readonly value: number | string | boolean;
  /** what it is */
  readonly comment?: string;
}

const BLOCK = 2880, CARD = 80;

/** Letters that a header may hold. */
function plain(text: string): string {
  return text.replace(/[^\x20-\x7e]/g, "?");
}

function cardOf({ key, value, comment }: FitsCard): string {
  if (!/^[A-Z0-9_-]{1,8}$/.test(key)) {
    throw new RangeError(`fitsFile requires keys of one to eight capitals, got ${key}`);
  }
  const written = typeof value === "string"
    ? `'${plain(value).replaceAll("'", "''").padEnd(8)}'`.padEnd(20)
    : (typeof value === "boolean" ? (value ? "T" : "F") : numberOf(value)).padStart(20);
  const card = `${key.padEnd(8)}= ${written}${comment === undefined ? "" : ` / ${plain(comment)}`}`;
  if (typeof value === "string" && written.length > CARD - 10) {
    throw new RangeError(`fitsFile requires values of at most 68 letters, got ${value}`);
  }
  return card.slice(0, CARD).padEnd(CARD);
}

function numberOf(value: number): string {
  if (!Number.isFinite(value)) {
    throw new RangeError(`fitsFile requires finite values, got ${value}`);
  }
  const short = String(value).toUpperCase();
  return short.length <= 20 ? short : value.toExponential(12).toUpperCase();
}

/**
 * Planes of one size as a FITS file of 32-bit numbers.
 *
 * @param planes  row after row from the bottom, in each row from the left; NaN where there is nothing
 * @param width   pixels
 * @param height  pixels
 * @param cards   of the header, in their order
 * @throws {RangeError} where sizes do not fit, or a card cannot be written
 * @see FITS Standard 4.0 (IAU FITS Working Group, 2018), sections 3, 4 and 5 (read back by astropy in tests/record/fitsPeer.py)
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * const bytes = fitsFile([[1, 2]], 2, 1, [{ key: "BUNIT", value: "nm" }]);
 * assert.equal(bytes.length, 5760);
 * assert.equal(new TextDecoder().decode(bytes.slice(0, 30)), "SIMPLE  =                    T");
 * ```
 */
export function fitsFile(
  planes: readonly ArrayLike<number>[],
  width: number,
  height: number,
  cards: readonly FitsCard[],
): Uint8Array<ArrayBuffer> {
  const count = width * height;
  if (!(planes.length > 0 && count > 0 && planes.every(({ length }) => length === count))) {
    throw new RangeError(
      `fitsFile requires planes of ${width} x ${height} numbers, got ${
        planes.map(({ length }) => length).join(", ")
      }`,
    );
  }
  const sizes = [width, height, ...(planes.length === 1 ? [] : [planes.length])];
  const lines = [
    { key: "SIMPLE", value: true, comment: "FITS standard" },
    { key: "BITPIX", value: -32, comment: "IEEE numbers of 32 bits" },
    { key: "NAXIS", value: sizes.length },
    ...sizes.map((value, k) => ({ key: `NAXIS${k + 1}`, value })),
    ...cards,
  ].map(cardOf);
  const header = [...lines, "END".padEnd(CARD)].join("");
  const headed = Math.ceil(header.length / BLOCK) * BLOCK;
  const bytes = new Uint8Array(headed + Math.ceil((4 * count * planes.length) / BLOCK) * BLOCK);
  bytes.set(new TextEncoder().encode(header.padEnd(headed)));
  const view = new DataView(bytes.buffer, headed);
  planes.forEach((plane, p) => {
    for (let k = 0; k < count; k++) view.setFloat32(4 * (p * count + k), plane[k] ?? NaN);
  });
  return bytes;
}
