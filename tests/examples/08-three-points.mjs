// How far a disc sags on three points
import { supportSag } from "first-mirror/telescope";

const glass = { youngGPa: 72, poisson: 0.22, densityKgPerM3: 2500 };
const { rms } = supportSag({ aperture: 150, thickness: 25, ...glass }, 3);
console.log(`${rms.toFixed(2)} nm RMS of glass`);
