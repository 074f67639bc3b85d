// Openings of a zone mask that the knife can part
import { designMask } from "first-mirror/testing";

const { zones } = designMask({ aperture: 148, radius: 2400, source: "moves", openings: "bands" });
console.log(zones.map(({ inner, outer }) => `${inner} to ${outer} mm`).join("\n"));
