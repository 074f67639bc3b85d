/** The silver bath as a lesson in quantities: how little silver stays on the glass. Never without its cautions. */

/** Molar masses, g/mol (MEMORY: IUPAC atomic masses) and the density of silver, g/cm^3. */
const SILVER = 107.8682, NITRATE = 169.8731, GLUCOSE = 180.1559, DENSITY = 10.49;

/** What must be said wherever quantities of the bath are shown. The first one is the default way: send it out. */
export const CAUTIONS: readonly string[] = [
  "Send the mirror out to be coated: that is the usual way. Many schools and places forbid silvering.",
  "Only a qualified chemist, with the safety data sheets read, a fume hood, goggles, face shield, gloves and an eye wash. Under-18s only watch, from a distance.",
  "Ammoniacal silver is mixed only just before use, in the smallest amount. It is never stored, heated, evaporated, left to dry or kept overnight: it forms an explosive that goes off at a touch, even wet, and has blinded people.",
  "Wash every vessel at once. Residues are made safe at once: diluted, acidified to silver chloride, and handed to an authorised collector. Nothing goes down the drain.",
  "Silver nitrate burns and blackens skin and eyes, feeds fire, and is very poisonous to life in water.",
  "A silver film is no Sun filter, however dark it looks.",
  "The rules of the place and the data sheets come before anything written here.",
];

/** Cautions are a list that cannot be empty: without them there is no result. */
export type Cautions = readonly [string, ...string[]];

/** Quantities of a bath; masses g, areas cm^2 where the name says so. */
export interface BathQuantities {
  readonly areaCm2: number;
  /** silver that stays on the glass */
  readonly silverOnGlass: number;
  /** nitrate that holds just this silver: what a perfect bath would need */
  readonly nitrateLeast: number;
  /** nitrate a real bath of this area holds */
  readonly nitrateInBath: number;
  /** silver in that nitrate */
  readonly silverInBath: number;
  /** bath over least */
  readonly excess: number;
  /** share of the bath's silver that ends on the glass; the rest is waste to be made safe */
  readonly yield: number;
  /** moles of nitrate, of ammonia that dissolves it again, and the least glucose, g */
  readonly nitrateMol: number;
  readonly ammoniaMol: number;
  readonly glucoseLeast: number;
}

/** Quantities and what must be said with them, together. */
export interface BathLesson {
  readonly quantities: BathQuantities;
  readonly cautions: Cautions;
}

/** A surface to be silvered; lengths mm. */
export interface Silvered {
  /** of the mirror, or of the dish, whose whole wet floor takes silver */
  readonly diameter: number;
  /** of the film, nm; default 100 */
  readonly thickness?: number;
  /** nitrate in the bath, mg for each cm^2; default 20, real baths held 14 to 43 */
  readonly nitrateMgPerCm2?: number;
}

const cautions = CAUTIONS as Cautions;

/**
 * What a bath holds, and what of it stays on the glass.
 *
 *     2 AgNO3 + 2 KOH -> Ag2O + 2 KNO3 + H2O;  Ag2O + 4 NH3 + H2O -> 2 [Ag(NH3)2]OH;
 *     RCHO + 2 [Ag(NH3)2]+ + 3 OH- -> RCOO- + 2 Ag + 4 NH3 + 2 H2O
 *
 * So two ammonia and half a glucose for each silver. This is arithmetic for a lesson, not a recipe.
 *
 * @param silvered  diameter above 0 mm, thickness above 0 nm, nitrate above 0 mg/cm^2
 * @returns quantities and cautions together
 * @throws {RangeError} outside those ranges, or where the bath holds less silver than the film
 * @see stoichiometry; old recipes by area: 13.8 to 42.6 mg/cm^2 (see the tests)
 * @example under one per cent of the silver stays
 * ```ts
 * import assert from "node:assert/strict";
 * const { quantities, cautions } = silverBath({ diameter: 150 });
 * assert.equal((1000 * quantities.silverOnGlass).toFixed(1), "18.5"); // mg
 * assert.equal((100 * quantities.yield).toFixed(2), "0.83"); // per cent
 * assert.match(cautions[0], /^Send the mirror out/);
 * ```
 */
export function silverBath(silvered: Silvered): BathLesson {
  const { diameter, thickness = 100, nitrateMgPerCm2 = 20 } = silvered;
  if (![diameter, thickness, nitrateMgPerCm2].every((x) => x > 0 && Number.isFinite(x))) {
    throw new RangeError(
      `silverBath requires diameter, thickness (nm) and nitrateMgPerCm2 above 0, got ${diameter}, ${thickness}, ${nitrateMgPerCm2}`,
    );
  }
  const areaCm2 = (Math.PI / 4) * (diameter / 10) ** 2;
  const silverOnGlass = DENSITY * areaCm2 * thickness * 1e-7;
  const nitrateInBath = (nitrateMgPerCm2 * areaCm2) / 1000;
  const quantities = { areaCm2, silverOnGlass, ...inBath(silverOnGlass, nitrateInBath) };
  if (quantities.excess < 1) {
    throw new RangeError(
      `silverBath requires a bath that holds the film's silver, got ${nitrateMgPerCm2} mg/cm2 for ${thickness} nm`,
    );
  }
  return { quantities, cautions };
}

function inBath(
  silverOnGlass: number,
  nitrateInBath: number,
): Omit<BathQuantities, "areaCm2" | "silverOnGlass"> {
  const nitrateLeast = (silverOnGlass * NITRATE) / SILVER, nitrateMol = nitrateInBath / NITRATE;
  const silverInBath = nitrateMol * SILVER;
  return {
    nitrateLeast,
    nitrateInBath,
    silverInBath,
    excess: nitrateInBath / nitrateLeast,
    yield: silverOnGlass / silverInBath,
    nitrateMol,
    ammoniaMol: 2 * nitrateMol,
    glucoseLeast: 0.5 * nitrateMol * GLUCOSE,
  };
}

/**
 * How many times more bath a dish needs than the mirror's own face: areas, not diameters.
 *
 * @param dish    diameter, mm; not below the mirror's
 * @param mirror  diameter, mm; above 0
 * @throws {RangeError} outside those ranges
 * @example
 * ```ts
 * import assert from "node:assert/strict";
 * assert.equal(dishShare(170, 150).toFixed(3), "1.284");
 * ```
 */
export function dishShare(dish: number, mirror: number): number {
  if (!(mirror > 0 && dish >= mirror && Number.isFinite(dish))) {
    throw new RangeError(
      `dishShare requires a dish not smaller than the mirror, mm, got dish=${dish}, mirror=${mirror}`,
    );
  }
  return (dish / mirror) ** 2;
}
