// Which screw of the cell to turn, and how far
import { screwTurns } from "first-mirror/telescope";

const angles = [90, 210, 330].map((degrees) => (degrees * Math.PI) / 180);
const turns = screwTurns(1200, { pitch: 1, radius: 60, angles }, [3, -2]);
console.log(turns.map((turn) => turn.toFixed(3)).join(", "));
