/** Exercises of open-record: the record, and where a number comes from. */
import type { Exercise } from "../exercise.ts";

export const openRecord: readonly Exercise[] = [
  {
    id: "open-record-1",
    ask:
      "A column’s header says depth_in, and a cell under it says 0.047. How deep is that in millimetres?",
    unit: "mm",
    answer: 1.194,
    traps: [{ value: 0.047, hint: "U" }, {
      value: 0.0018504,
      hint: "An inch is longer than a millimetre: times or divided by 25.4?",
    }],
    hints: [
      "Which unit does the header name?",
      "Look at the end of the header, and at 25.4.",
      "0.047 in × 25.4 mm/in = 1.194 mm.",
    ],
  },
  {
    id: "open-record-2",
    ask:
      "A record says aperture 150 mm and focal_length 2400 mm, but leaves under a straight-edge at the full 150 mm say 1.17 mm. Which focal length do the leaves speak for?",
    unit: "mm",
    answer: 1202,
    tolerance: 20,
    traps: [
      { value: 2404.4, hint: "F" },
      { value: 2400, hint: "That is what the record says. What do the leaves say?" },
      { value: 4808, hint: "D" },
      { value: 9616, hint: "D" },
    ],
    hints: [
      "Is the depth that of a radius of 2400 mm, or of 4800 mm?",
      "Look at 75² ÷ (2 × 1.17), and at what that number is called.",
      "(75² + 1.17²) ÷ (2 × 1.17) = 2404 mm is R; f is half of it, 1202 mm.",
    ],
  },
  {
    id: "open-record-3",
    ask:
      "Asha’s last day at the tester has twelve runs with a mask of nine openings. How many readings is that?",
    unit: "",
    answer: 108,
    tolerance: 0,
    traps: [{ value: 12, hint: "Twelve runs, and how many zones in each?" }, {
      value: 9,
      hint: "Nine zones, and how often was each read?",
    }, { value: 21, hint: "In every run all nine are read: times, not plus." }],
    hints: [
      "How often was the knife read in one run?",
      "Look at the lines of zones.csv.",
      "12 runs × 9 zones = 108 readings.",
    ],
  },
];
