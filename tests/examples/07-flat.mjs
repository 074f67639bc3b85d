// The flat of a telescope: how large, and how far it sits off the axis
import { flatFor } from "first-mirror/telescope";

const { minorAxis, offset } = flatFor({ aperture: 150, focalLength: 1200 }, 200, 8);
console.log(`minor axis ${minorAxis.toFixed(1)} mm, offset ${offset.toFixed(2)} mm`);
