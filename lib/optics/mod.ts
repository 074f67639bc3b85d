/**
 * Light and curved glass.
 *
 * ## Signs, once for the whole kit
 *
 * ```text
 *        r                                                       z: from the vertex toward the observer
 *        ^        ____ glass                                     r: distance from the axis
 *        |       /
 *        |      |   <- surface error +: high glass, a hill, toward the observer (+z)
 *   -----+------V---------------------------F--------C------> z
 *        |      |   vertex                  f        R = 2f (paraxial centre of curvature)
 *        |       \____
 *                                             -  <- C ->  +      knife, grating: + = farther from the mirror
 * ```
 *
 * - Surface error is glass height, nm. Wavefront is the advance of the reflected light: it is twice the glass
 *   (exactly 2 cos^2 of the slope angle for a star). A hill shortens the path, so it is an advance, +.
 * - A knife reading grows away from the mirror; its zero is arbitrary, because a constant is only focus.
 * - A turned-down edge has falling glass, a longer local radius, and so a LARGER reading than the ideal one.
 * - Conic constant K: 0 sphere, -1 paraboloid. Between them, readings spread less than the paraboloid's.
 * - Lengths mm, heights of glass and wavefront nm, wavelength nm, angles rad. Waves only where the name says so.
 */
export * from "./airy.ts";
export * from "./conic.ts";
export * from "./contrast.ts";
export * from "./extendedImage.ts";
export * from "./film.ts";
export * from "./glass.ts";
export * from "./quality.ts";
export * from "./sphere.ts";
export * from "./sphereEnough.ts";
export * from "./starImage.ts";
export * from "./zernike.ts";
