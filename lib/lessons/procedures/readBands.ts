/** The stand set up, the returned image found, bands read and photographed. */
import { type BenchNumbers, from, mm, said, waited, type Work } from "./procedure.ts";

/** The band test. */
export function readBands({ radius, thickness }: BenchNumbers): Work {
  return {
    title: "Find the image and read the bands",
    who: "anybody tests; a learner with an adult builds the stand",
    bench: [
      "two firm tables on one floor, a dark room",
      "lamp, slit and grating, built as below; a white card; a tape",
      "a mirror stand with two tilt screws, gloves, a strap",
      "a phone on a stand of its own, a thermometer",
    ],
    alone: "You may test alone. Tape the knife’s corner before you put it near your eye.",
    steps: [
      {
        do:
          "Stand the mirror upright on two rim pads, either side of its lowest point, leaning back a little on three pads. Lay the strap round it loosely.",
        right: "It cannot fall forward, and rattles a little when touched.",
        wrong: "It is held tight: a pinched mirror is bent. Loosen it.",
        minds: ["electricity beside water"],
        drawing: "stand",
      },
      {
        do: `Set the lamp ${mm(radius)} from the glass by tape, within ${said("distance_off")}, ${
          said("stand_height")
        } or more above the table. Slit, grating and the mirror’s middle stand at one height.`,
        right: "A string from slit to the mirror’s middle runs level.",
        write: "A note: distance, heights.",
      },
      {
        do: `Wait: ${waited("touch_bare", thickness, 1.4)} after a bare hand, ${
          said("touch_gloved")
        } after gloves, and until glass and air are alike.`,
        right: `For bands within a degree is enough, ${
          waited("bands_less", thickness)
        } earlier than for the knife. In still air glass loses two thirds of a difference in ${
          waited("third", thickness)
        }.`,
        wrong: `Bands that crawl or boil: wait longer. The short way for cold glass: ${
          waited("bath", thickness, 1.4)
        } in a lidded bucket of room water, dry, ${
          waited("bath_stand", thickness, 1.4)
        } on the stand.`,
        write: "ronchi.csv: a note with the air’s temperature at both ends.",
      },
      {
        do:
          "Dim the lamp. Take the slit off. Hold the white card beside the lamp. Tilt the mirror until its light falls on the card.",
        right: "A bright patch that moves when you touch a tilt screw.",
        wrong:
          "No patch: look from behind the lamp for the lit mirror, move your head, then tilt the mirror toward your head.",
        minds: ["knife and lamp"],
        drawing: "image-found",
      },
      {
        do: "Move the card, not the mirror, toward it and away, until the patch is smallest.",
        right: "A small picture of the lamp.",
        wrong: "It only grows: you went the wrong way.",
      },
      {
        do:
          `Put the grating where that picture stood. Put the slit back. Bring your eye two to five centimetres behind the grating.`,
        right: "The whole disc is lit, with dark bands across it.",
        wrong: "Only part of it is lit: move your eye first, then tilt the mirror.",
        write:
          "mirror.yaml, tester, source: “moves with knife” where lamp and slit ride on the grating’s slide or the grating covers both, “fixed” where the lamp stays. The wrong word doubles or halves the answer.",
      },
      {
        do: "Move the grating along until three to seven bands are left.",
        right: "Fewer and broader bands: you come nearer to the centre of curvature.",
        drawing: "knife-places",
      },
      {
        do:
          "Look at the bands inside the centre first, then outside. Say the side aloud, then the shape.",
        right: "A sphere: straight. A paraboloid: bent like ( ) inside and ) ( outside.",
        wrong: "Bent the same way on both sides: it is the air or the grating. Wait.",
      },
      {
        do: "Look at the very ends of the bands.",
        right: "They run straight off the glass.",
        wrong:
          "The last bit hooks, one way inside and the other way outside: the edge is turned. Stage 13 says what to do.",
        drawing: "hooks",
      },
      {
        do: `Put the phone on its own stand, its lens ${
          from("lens_back")
        } behind the grating. Tap the mirror’s rim for focus and lock it. No flash, no night mode, no filter. Use the self-timer.`,
        right: `The disc is ${
          said("disc_pixels")
        } wide or more, nothing is pure white, and the rim is sharp.`,
        wrong: "White patches: dim the lamp.",
      },
      {
        do: "Take three pictures inside and three outside, at the same distance from the centre.",
        right: "One side never decides.",
        write: "ronchi.csv: photo, lines_per_mm, offset_mm, a row for each picture.",
      },
    ],
  };
}
