import assert from "node:assert/strict";
import {
  fromAbove,
  methods,
  methodsInWords,
  profile,
  standing,
} from "../../../lib/book/pages/reportFigures.ts";
import { reportPage } from "../../../lib/book/pages/reportPage.ts";
import type { MirrorRecord } from "../../../lib/record/types.ts";
import { states } from "../sampleBook.ts";

const { empty, halfway, finished } = {
  empty: states.empty.summary,
  halfway: states.halfway.summary,
  finished: states.finished.summary,
};

Deno.test("figures that have nothing to show are left out", () => {
  assert.deepEqual([standing(empty), methods(empty), profile(states.empty)], [
    undefined,
    undefined,
    undefined,
  ]);
  assert.equal(standing(finished), undefined);
  assert.equal(profile(states.halfway), undefined);
});

Deno.test("where you stand: the stop, the target, the depth with its interval", () => {
  const words = standing(halfway)?.markup ?? "";
  assert.match(words, /go on up to 1\.128, stop up to 1\.172, too deep beyond/);
  assert.match(words, /Yours stands at 0\.965, 95 percent interval 0\.941 to 0\.989/);
});

Deno.test("a mirror past the target stands beyond it, on a scale that still holds it", () => {
  const { grinding } = halfway;
  assert.ok(grinding !== undefined);
  const deep = {
    ...halfway,
    grinding: { ...grinding, sagitta_now: { value: 2, unit: "mm", u: 0.01 } },
  };
  assert.match(
    standing(deep)?.markup ?? "",
    /from 0\.800 to 2\.080: .*Yours stands at 2\.000.*in “too deep”/,
  );
});

Deno.test("methods: each with its bar, the odd one struck through, the heading counts them", () => {
  assert.match(methods(finished)?.markup ?? "", /<h2>Three ways to one radius<\/h2>/);
  const { curve } = finished;
  assert.ok(curve !== undefined);
  const odd = methods({ ...finished, curve: { ...curve, consistent: false, odd_one: "leaves" } });
  assert.match(odd?.markup ?? "", /Leaves stands apart/);
  assert.doesNotMatch(odd?.markup ?? "", /Together/);
});

Deno.test("an estimate that was not used, and does not stand apart, is not drawn", () => {
  const { curve } = finished;
  assert.ok(curve !== undefined);
  const [leaves, ...rest] = curve.estimates;
  assert.ok(leaves !== undefined);
  const html = methods({
    ...finished,
    curve: { ...curve, estimates: [{ ...leaves, used: false }, ...rest] },
  });
  assert.match(html?.markup ?? "", /<h2>Two ways to one radius/);
  assert.doesNotMatch(html?.markup ?? "", /Leaves/);
});

Deno.test("the openings of the mask stand under a profile from zones, each once", () => {
  const zone = (run: string, inner: number, outer: number): MirrorRecord["zones"][number] => ({
    file: "zones.csv",
    line: 2,
    run,
    inner,
    outer,
    reading: 12,
  });
  const zones = [zone("1", 30, 45), zone("1", 0, 30), zone("2", 0, 30)];
  const drawn = profile({ ...states.finished, record: { ...states.finished.record, zones } });
  assert.match(drawn?.markup ?? "", /openings of the mask/);
  assert.doesNotMatch(profile(states.finished)?.markup ?? "", /openings of the mask/);
});

Deno.test("the profile is drawn for three widths, tells its finding, and has the goal beside it", () => {
  const html = profile(states.finished)?.markup ?? "";
  assert.equal(html.match(/<svg/g)?.length, 3);
  // DERIVED: the sample's profile is 12 cos(r / 17) nm every 2 mm: 12 at the centre, −12 near 53.4 mm
  assert.match(html, /\+12 at 0 mm, lowest −12 at 5\d mm/);
  assert.match(html, /Peak to valley 26 ± 3 nm of glass; the goal is 69\./);
  assert.doesNotMatch(html.replace(/aria-label="[^"]*"/g, ""), /NaN|Infinity|undefined/);
});

Deno.test("a profile far over the goal and a flat one are drawn alike", () => {
  const { zones } = finished.figure ?? {};
  for (const height of [0, 4000]) {
    const points = [0, 37, 74].map((radius) => ({
      radius,
      surface_error: height * Math.cos(radius / 20),
      u: 0,
    }));
    const summary = { ...finished, figure: { zones: { ...zones, profile: points } } };
    assert.doesNotMatch(profile({ ...states.finished, summary })?.markup ?? "", /NaN|Infinity/);
  }
});

Deno.test("more than one diameter: the surface from above, the profile as their mean, the ways to the radius in words", () => {
  const zones = states.finished.summary.figure?.zones;
  assert.ok(zones !== undefined);
  assert.equal(fromAbove(states.finished), undefined);
  const astigmatism = {
    amplitude: { value: 46, u: 8, unit: "nm" },
    axis: { value: 30, u: 5, unit: "deg" },
    interval_95: [30, 62],
  } as const;
  const summary = { ...finished, figure: { zones: { ...zones, astigmatism, diameters: 4 } } };
  const facts = { ...states.finished, summary };
  assert.match(fromAbove(facts)?.markup ?? "", /highest along the diameter at 30 ± 5 degrees/);
  assert.match(profile(facts)?.markup ?? "", /as the mean of 4 diameters/);
  const said = methodsInWords(summary)?.markup.replace(/<[^>]*>/g, "") ?? "";
  assert.match(said, /^Radius of curvature by leaves .*, spherometer .*; they agree\.$/);
  assert.equal(methodsInWords(empty), undefined);
  const page = reportPage(facts);
  assert.match(page, /From above/);
  assert.doesNotMatch(page, /ways to one radius/);
  assert.match(reportPage(states.finished), /Three ways to one radius/);
});
