/** What a photograph gives away beside its figure: an offset with the wrong sign, a disc that is not round. */
import { squeezeOf } from "../testing/photo/photoShape.ts";
import { clean } from "../record/clean.ts";
import type { DecodedPhotos } from "./photoFigures.ts";
import { mm } from "../quantity/format.ts";
import { REVERSED, type Slip } from "./slips.ts";
import type { FigureSummary } from "./summaryTypes.ts";
import type { MirrorRecord, RonchiRow } from "../record/types.ts";

/** A conic that is a paraboloid's turned inside out: the grating stood on the other side. */
function wrongSign(row: RonchiRow, { conic }: FigureSummary): Slip | undefined {
  if (conic === undefined || !(conic.value > REVERSED && conic.value > 2 * (conic.u ?? 0))) {
    return undefined;
  }
  const name = clean(row.photo), sign = row.offset > 0 ? "minus" : "plus";
  return {
    of: "photographs",
    place: { file: row.file, line: row.line, column: "offset" },
    message:
      `${name} gives a conic of ${
        conic.value.toFixed(2)
      }, which no polishing toward a paraboloid gives; with a ` +
      `${sign} before its offset of ${mm(Math.abs(row.offset))} it would be near ${
        (-conic.value).toFixed(2)
      }`,
    do:
      `Look where the grating stood for ${name}: inside the centre of curvature, nearer the mirror, is minus; outside is plus. Mend offset_mm in ronchi.csv.`,
  };
}

function notRound(row: RonchiRow, photos: DecodedPhotos): Slip | undefined {
  const image = photos.get(row.photo), ratio = image && squeezeOf(image);
  if (ratio === undefined) return undefined;
  const name = clean(row.photo);
  return {
    of: "photographs",
    place: { file: row.file, line: row.line, column: "photo" },
    message: `the disc in ${name} is ${
      ratio.toFixed(2)
    } times as wide as it is high: was the picture squeezed, or taken from the side?`,
    do:
      `Take the photograph of ${name} again from the mirror's axis, and copy it as the camera stored it, its shape unchanged.`,
  };
}

/**
 * Slips of the photographs.
 *
 * @param record   its ronchi.csv
 * @param figures  one for each photograph, and for several together
 * @param photos   decoded
 */
export function photoSlips(
  record: MirrorRecord,
  figures: readonly FigureSummary[],
  photos: DecodedPhotos,
): readonly Slip[] {
  const round = record.ronchi.flatMap((row) => notRound(row, photos) ?? []);
  if (record.settings.goal.shape === "sphere") return round;
  const signs = figures.flatMap((figure) => {
    const row = record.ronchi.find(({ photo }) => clean(photo) === figure.photo);
    return (row && wrongSign(row, figure)) ?? [];
  });
  return [...round, ...signs];
}
