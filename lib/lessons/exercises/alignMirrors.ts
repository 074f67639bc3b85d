/** Exercises of align-mirrors: tilts, turns and signs. */
import type { Exercise } from "../exercise.ts";

export const alignMirrors: readonly Exercise[] = [
  {
    id: "align-mirrors-1",
    ask:
      "Three screws of 1 mm pitch stand on a circle of 60 mm radius. By how many arcminutes does one turn of one screw tilt the mirror?",
    unit: "arcmin",
    answer: 38.2,
    traps: [
      { value: 57.296, hint: "About which line does it turn?" },
      { value: 0.011111, hint: "That is in radians." },
      { value: 0.63662, hint: "That is in degrees." },
      { value: 76.394, hint: "So far the ray turns. How far does the mirror?" },
    ],
    hints: [
      "About which line does the mirror turn when one screw moves?",
      "Look at the line through the other two screws: 1.5 × 60 mm away.",
      "1 ÷ 90 = 0.0111 rad, that is 38.2 arcminutes.",
    ],
  },
  {
    id: "align-mirrors-2",
    ask:
      "By how many millimetres does that turn move the image of a star? The focal length is 1198.3 mm.",
    unit: "mm",
    answer: 26.63,
    traps: [{ value: 13.314, hint: "A tilted mirror turns the ray by twice its own tilt." }, {
      value: 53.258,
      hint: "F",
    }],
    hints: [
      "By how much does a mirror turn a ray when it is tilted itself?",
      "Look at 2 × 1198.3 mm, and at 1/90.",
      "2 × 1198.3 ÷ 90 = 26.6 mm.",
    ],
  },
  {
    id: "align-mirrors-3",
    ask:
      "The screw on the focuser’s side, at +x, is raised towards the sky. Which way does the image of a star go?",
    choices: ["to −x, away from that screw", "to +x, towards that screw", "it stays"],
    answer: "to −x, away from that screw",
    traps: [
      { value: "to +x, towards that screw", hint: "S" },
      { value: "it stays", hint: "Only what turns about the star’s own ray would stay." },
    ],
    hints: [
      "Which way does the mirror’s face lean when its +x side is raised?",
      "Look at the face: it now leans towards −x.",
      "It throws the light where it leans: to −x.",
    ],
  },
];
