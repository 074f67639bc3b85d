import assert from "node:assert/strict";
import fc from "fast-check";
import { CAUTIONS, dishShare, silverBath } from "../../lib/coating/bath.ts";

function near(got: number, wanted: number, within = 1e-3, what = ""): void {
  assert.ok(
    Math.abs(got - wanted) <= within * Math.abs(wanted),
    `${what} ${got}, wanted ${wanted}`,
  );
}

Deno.test("a film of 100 nm on 150 and 250 mm, mg", () => {
  // DERIVED: 10.49 g/cm3 x area x 100 nm; nitrate 169.8731/107.8682 times as much
  const small = silverBath({ diameter: 150 }).quantities;
  near(1000 * small.silverOnGlass, 18.537, 1e-4);
  near(1000 * small.nitrateLeast, 29.193, 1e-4);
  const large = silverBath({ diameter: 250 }).quantities;
  near(1000 * large.silverOnGlass, 51.493, 1e-4);
  near(1000 * large.nitrateLeast, 81.092, 1e-4);
});

Deno.test("a bath of 20 mg/cm2 on 150 mm", () => {
  // DERIVED by stoichiometry
  const { quantities } = silverBath({ diameter: 150 });
  near(quantities.areaCm2, 176.715, 1e-5);
  near(quantities.nitrateInBath, 3.5343, 1e-4);
  near(quantities.nitrateMol, 0.020805, 1e-4);
  near(quantities.ammoniaMol, 0.04161, 1e-4);
  near(quantities.glucoseLeast, 1.8741, 1e-4);
  near(quantities.silverInBath, 2.2442, 1e-4);
  near(quantities.excess, 121, 2e-3);
  near(quantities.yield, 0.00826, 1e-3);
});

Deno.test("baths of old, by area: an observatory's of 1864 and three of workshops", () => {
  const grain = 0.06479891,
    inch = 25.4,
    area = (d: number): number => (Math.PI / 4) * (d / 10) ** 2;
  // READ H. Draper, Smithsonian Contributions (1864): 800 grains for 15.5 in; DERIVED 42.583 mg/cm2, 257.8, .388 %
  const draper = 800 * grain, dish = 15.5 * inch;
  near(draper, 51.839, 1e-4);
  near(area(dish), 1217.36, 1e-5);
  const old =
    silverBath({ diameter: dish, nitrateMgPerCm2: (1000 * draper) / area(dish) }).quantities;
  near((1000 * draper) / area(dish), 42.583, 1e-4);
  near(old.excess, 257.8, 1e-3);
  near(old.yield, 0.00388, 1e-3);
  // READ Common, as quoted in Wilkinson, Photo-Engraving: 1 oz on 250 square inches; DERIVED 17.577, 106.4
  const common = (1000 * 28.3495) / (250 * 2.54 ** 2);
  near(common, 17.577, 1e-4);
  near(silverBath({ diameter: 150, nitrateMgPerCm2: common }).quantities.excess, 106.4, 1e-3);
  // READ Amateur Work, vol. 5: 2 fl oz of 10 % for 9 in; a teaching page: 1 g for 40 cm2
  const amateur = (1000 * 2 * 28.4131 * 0.1) / area(9 * inch);
  near(amateur, 13.845, 1e-3);
  near(silverBath({ diameter: 150, nitrateMgPerCm2: amateur }).quantities.excess, 83.8, 1e-3);
  near(silverBath({ diameter: 150, nitrateMgPerCm2: 25 }).quantities.excess, 151.3, 1e-3);
});

Deno.test("how an old recipe's sugar and lye stand to its silver", () => {
  // READ Common, as above: glucose half as much as nitrate, caustic potash as much, by weight
  const { nitrateInBath, nitrateMol, glucoseLeast } = silverBath({ diameter: 150 }).quantities;
  // DERIVED 0.5 x 169.8731 / 180.1559: a little less glucose than the half mole that is needed
  const glucose = nitrateInBath / 2 / (2 * glucoseLeast / nitrateMol);
  near(glucose / nitrateMol, 0.4715, 3e-4);
  assert.ok(glucose / nitrateMol < 0.5);
  // DERIVED 169.8731 / 56.1056, KOH from K 39.0983, O 15.9994, H 1.00794
  near(nitrateInBath / (39.0983 + 15.9994 + 1.00794) / nitrateMol, 3.028, 3e-4);
});

Deno.test("law: by area, not by diameter; the film's thickness counts once", () => {
  near(dishShare(170, 150), 1.2844, 1e-4);
  // DERIVED (250/150)^2
  near(dishShare(250, 150), 2.7778, 1e-4);
  fc.assert(fc.property(
    fc.double({ min: 20, max: 500, noNaN: true }),
    fc.double({ min: 20, max: 300, noNaN: true }),
    (diameter, thickness) => {
      const one = silverBath({ diameter, thickness }).quantities;
      const two = silverBath({ diameter: 2 * diameter, thickness }).quantities;
      near(two.silverOnGlass, 4 * one.silverOnGlass, 1e-9);
      near(two.nitrateInBath, 4 * one.nitrateInBath, 1e-9);
      near(two.excess, one.excess, 1e-9);
      assert.ok(one.yield < 0.03 && one.silverInBath < one.nitrateInBath);
    },
  ));
});

Deno.test("no quantities without cautions: sending out first, the explosive said, the place's rules last", () => {
  const { cautions } = silverBath({ diameter: 10 });
  assert.deepEqual(cautions, CAUTIONS);
  assert.match(cautions[0], /^Send the mirror out/);
  const all = cautions.join(" ");
  for (
    const word of [
      "chemist",
      "just before use",
      "never stored",
      "explosive",
      "Residues",
      "Under-18s",
      "Sun filter",
    ]
  ) {
    assert.ok(all.includes(word), word);
  }
  assert.match(cautions.at(-1) ?? "", /rules of the place/);
});

Deno.test("refuses what cannot be", () => {
  assert.throws(() => silverBath({ diameter: 0 }), /above 0, got 0, 100, 20/);
  assert.throws(
    () => silverBath({ diameter: 150, nitrateMgPerCm2: 0.1 }),
    /holds the film's silver/,
  );
  assert.throws(() => silverBath({ diameter: NaN }), RangeError);
  assert.throws(() => dishShare(140, 150), /not smaller than the mirror/);
});
