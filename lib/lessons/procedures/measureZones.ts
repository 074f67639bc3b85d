/** The knife-edge behind the mask: readings there and back, by two people. */
import { type BenchNumbers, from, mm, said, waited, type Work } from "./procedure.ts";
import { decision } from "../../record/tables.ts";

/** The zone test. */
export function measureZones({ radius, thickness }: BenchNumbers): Work {
  return {
    title: "Read the zones, there and back",
    who: "anybody, in pairs: a reader and a writer",
    bench: [
      "the stand of stage 10, with slit, knife, and a slide with a dial to 0.01",
      "the mask, gloves, tape for the knife’s corner",
      "a thermometer at each end",
      "a sheet that only the writer sees",
    ],
    alone:
      "Read alone into a recorder, without looking at the dial’s number until the run is over. Give the dial a new zero between runs with your eyes shut.",
    steps: [
      {
        do: `Tape the knife’s near corner. Put slit and knife into one plane, side by side, ${
          said("slit_knife")
        } apart or less. The slit is ${
          from("slit")
        } wide. Screen the lamp from your eye, and dim it.`,
        right: "No light of the lamp reaches your eye but by way of the mirror.",
        minds: ["knife and lamp", "electricity beside water"],
        drawing: "stand",
      },
      {
        do: `Find the returned image as in stage 10, about ${mm(radius)} from the glass.`,
        right: "Behind the knife’s place the whole disc shines evenly.",
        wrong: "Only part of it: your eye first, then the mirror’s tilt.",
        drawing: "image-found",
      },
      {
        do:
          "Square the knife: look at the slit’s image on the blade through a magnifier, and turn the blade.",
        right: "The disc dims all over at once.",
        wrong: "A slanted front runs over it: turn a little more.",
        drawing: "shadow",
      },
      {
        do: "Bring the knife in from the left. Watch from which side the shadow comes.",
        right:
          "From the left too: the knife is inside, slide back. From the right: outside, slide in. Grey all at once: the centre.",
        drawing: "knife-places",
      },
      {
        do: `Put the mask on in gloves, centred. Wait ${said("touch_gloved")} after gloves, ${
          waited("touch_bare", thickness, 1.4)
        } after a bare hand (${
          mm(thickness)
        } of glass), and until the glass has come within a quarter of a degree of still air: ${
          waited("wait_1", thickness)
        } from one degree off, ${waited("wait_2", thickness)} from two, ${
          waited("wait_5", thickness)
        } from five, ${waited("wait_10", thickness)} from ten.`,
        right: `The wait is over when the time is past and two runs, ${
          said("agree_apart")
        } apart, agree within their scatter.`,
        wrong: `They drift one way: it is not over. Glass that comes in cold: ${
          waited("bath", thickness, 1.4)
        } in a lidded bucket of room water, dry, ${
          waited("bath_stand", thickness, 1.4)
        } on the stand, then two runs again.`,
        write: "zones.csv: a note with air at both ends and the last touch.",
      },
      {
        do:
          "Reader: bring the knife in from the same side each time, and say “now” when both windows grey alike. Writer: read the dial, and do not speak.",
        right: "Nobody hears a number.",
        wrong:
          "A number was said: that run is worth nothing for the reader’s next one. Begin it anew.",
        drawing: "zones",
      },
      {
        do:
          "Go there and back: from the middle to the rim, and from the rim to the middle. That is one double run. A mask with its even zones across: odd zones outward, turn the mask by a quarter, even ones outward, even ones back, turn, odd ones back.",
        right:
          "Every zone has two readings, as long before the middle of the run as after it: a steady drift cancels. The mask stands before the glass and is turned by its tab, so that no hand comes near it and no wait is lost.",
        write: "zones.csv: run, order, inner_mm, outer_mm, reading_mm.",
        drawing: "there-back",
      },
      {
        do:
          "Writer: shift the dial’s zero by a secret amount before the next run, and begin it at the rim.",
        right: "The reader cannot remember an old number.",
        write: "zones.csv: each run has its own zero; the kit needs none.",
      },
      {
        do: `Make ${said("double_runs")} at least.`,
        right: `Their scatter is ${decision("pooled_s_most")} mm or less.`,
        wrong:
          "More: the air is not still. No heater, nobody below the beam, breathe aside; try a card tunnel over the beam.",
      },
      {
        do:
          "A slip is struck through with its reason before the mean is known. Nothing is read again until it fits.",
        right: "All that was read is on the sheet.",
        write: "zones.csv: note.",
      },
      {
        do:
          "For the whole surface: arrow up, knife upright. Then knife, slit and mask turned by a quarter, the glass untouched. Then the arrow to the left as you see it from the tester, in gloves, and both again. Then the same with the arrow half-way between. A dot on the rim shows from the front where the arrow is.",
        right: "Stand, air and the mirror’s seat cancel, and what is left is glass.",
        wrong:
          "Only the mirror was turned: that holds the seat’s shift, as large as what you look for.",
        write: "zones.csv: angle_deg, knife_deg. Arrow up is 0, to the left 90, between 45.",
        drawing: "four-settings",
      },
    ],
  };
}
