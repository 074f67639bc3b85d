// Knife readings to a surface, and whether it is good enough
import { reduceZones } from "first-mirror/testing";

const openings = [[0, 22], [22, 40], [40, 57.5], [57.5, 74]];
const at = ([inner, outer]) => ({ inner, outer, reading: (inner ** 2 + outer ** 2) / 9600 });
const runs = ["1", "2", "3"].map((run) => openings.map((o) => ({ run, ...at(o) })));
const glass = { aperture: 150, bevel: 1, radius: 2400 };
const moves = { source: "moves", openings: "bands" };
const { verdict, conic } = reduceZones({ ...glass, ...moves, readings: runs.flat() });
console.log(verdict, conic.value.toFixed(2), conic.u.toFixed(2));
