/** Looking at a star on both sides of focus, and photographing it. */
import { type BenchNumbers, from, type Work } from "./procedure.ts";

/** Reading a star. */
export function readStar(_: BenchNumbers): Work {
  return {
    title: "Read a star",
    who: "anybody, an adult beside young people",
    bench: [
      "an eyepiece of 200 times or so, and a lower one to find",
      "a dim red torch, a card, a pencil",
      "for photographs: a phone and a holder that clamps it to the eyepiece",
    ],
    alone: "You may do it alone. Say where you are. No young person alone in the dark.",
    steps: [
      {
        do: `After sunset: cap off, tube pointing up into the dark. It has stood outside ${
          from("outside_before")
        }.`,
        right: "The tube feels as cold as the air.",
        wrong: "Warm to the hand: the star boils, and tells of warmth only.",
        minds: [
          "the Sun in a telescope",
          "a coated mirror in sunlight",
          "night and road",
          "lasers",
        ],
      },
      {
        do: "A bright star, high up, in the middle of the field. First low power, then high.",
        right: "It stays near the middle while you look.",
        wrong: "It runs out: aim ahead of it, and let it come.",
      },
      {
        do: "Focus. Then turn the focuser inward until you count five rings.",
        right: "A round disc of rings with a dark hole in its middle.",
        wrong: "Squeezed to one side: align first.",
        drawing: "star-rings",
      },
      {
        do: "Draw what you see in one minute. Then outward, to as many rings, and draw again.",
        right: "Two small drawings beside each other.",
      },
      {
        do: "An oval? Turn your head by a quarter.",
        right: "It stays.",
        wrong: "It turns with you: it is your eye. Glasses on.",
      },
      {
        do: "Say which words of the page fit. Follow the act that it names, one at a time.",
        right: "Each act takes causes away.",
        write: "diary.csv: star seen, and in the note what both sides showed.",
      },
      {
        do:
          "For photographs: clamp the phone, one second or less, no white in the rings. One inside, one outside, nothing else moved.",
        right: "Both discs are as wide as a tenth of the picture.",
        wrong: "A streak: it was shaken. White through and through: shorter.",
        write: "star.csv: a row for each, with its side.",
      },
      {
        do: "Cap the tube before it is light.",
        right: "Both ends are covered.",
      },
    ],
  };
}
