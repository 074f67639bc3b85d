/** How far a mirror has come: for each stage what its record knows, and the stage the next step belongs to. */
import { type Html, safe } from "../../figures/html.ts";
import { probabilityText } from "../../figures/words.ts";
import type { GrindingRow, MirrorRecord } from "../../record/types.ts";
import { labelOf, QUANTITIES } from "../../knowledge/quantities.ts";
import type { Summary, VerdictSummary } from "../../knowledge/summaryTypes.ts";
import { wasWritten } from "../../record/readings.ts";
import { course, findStage, type Stage } from "../../lessons/course.ts";
import { type BookFacts, counted, plainNumber, told } from "./facts.ts";

export { probabilityText };

/** What is asked of the discs beside their width; where it was not written it is assumed. */
const ofDiscs = ["glass", "thickness", "bevel"] as const;

/** Which numbers of the discs nobody wrote down, in words. */
function assumedOf(record: MirrorRecord): string {
  const assumed = ofDiscs.filter((key) => !wasWritten(record, key)), last = assumed.at(-1);
  if (last === undefined) return "";
  const before = assumed.slice(0, -1).join(", ");
  return `; ${before === "" ? "" : `${before} and `}${last} assumed`;
}

/** Whether rough grinding is over: the next step lies past the stage that corrects the depth. */
function isHollow(summary: Summary): boolean {
  const here = stageOfNextStep(summary), last = findStage("correct-depth");
  return here !== undefined && last !== undefined && here.number > last.number;
}

type Known = (facts: BookFacts) => Html | undefined;

/** Whether a grade of the log is a polishing oxide, a fine grade, or a rough one. */
export function kindOfGrade(abrasive: string): "rough" | "fine" | "polish" {
  const grit = /^[FP#]\s*(\d+)/i.exec(abrasive);
  if (grit === null) return "polish";
  return Number(grit[1]) < 120 ? "rough" : "fine";
}

function minutes(rows: readonly GrindingRow[], kind: "rough" | "fine" | "polish"): number {
  return rows.filter((row) => kindOfGrade(row.abrasive) === kind)
    .reduce((sum, row) => sum + row.minutes, 0);
}

/** What a verdict is of, with its article. */
export function scopeOf({ scope }: VerdictSummary): string {
  return scope === "whole surface" ? "the whole surface" : "one diameter";
}

const known: Readonly<Record<string, Known>> = {
  "open-record": ({ summary }) =>
    safe`read without a refusal${
      summary.warnings.length > 0 && `, ${counted(summary.warnings.length, "thing")} to look at`
    }`,
  "choose-mirror": ({ summary: { design } }) =>
    safe`R ${told(design.radius)} wanted, sagitta ${told(design.sagitta)}`,
  "prepare-discs": ({ record, record: { settings } }) =>
    safe`${settings.glass}, ${plainNumber(settings.aperture)} × ${
      plainNumber(settings.thickness)
    } mm, ${
      settings.unknownBevel === undefined
        ? safe`bevel ${settings.bevel.toFixed(1)} mm`
        : safe`bevel not written`
    }${assumedOf(record)}`,
  "grind-hollow": ({ summary, record }) => {
    const spent = minutes(record.grinding, "rough");
    const rate = summary.grinding?.rates.mirrorOnTop;
    return spent > 0
      ? safe`${plainNumber(spent)} min${!isHollow(summary) && " so far"}${
        rate && safe`, ${told(rate)}`
      }`
      : undefined;
  },
  "measure-curve": ({ summary: { curve } }) => {
    const used = curve?.estimates.filter((estimate) => estimate.used) ?? [];
    const readings = used.reduce((sum, estimate) => sum + estimate.readings, 0);
    return curve?.radius &&
      safe`R ${told(curve.radius)} from ${counted(readings, "reading")} by ${
        counted(used.length, "method")
      }`;
  },
  "weigh-readings": ({ summary: { curve } }) =>
    curve?.birgeRatio === undefined
      ? undefined
      : safe`the methods ${curve.consistent ? "agree" : "do not agree"}, Birge ratio ${
        curve.birgeRatio.toFixed(2)
      }`,
  "correct-depth": ({ summary: { grinding } }) =>
    grinding &&
    safe`${told(grinding.sagittaNow)} deep, ${plainNumber(grinding.targetSagitta.value)} wanted${
      grinding.overshoot && safe`: ${told(grinding.overshoot)} too deep`
    }`,
  "smooth-surface": ({ record }) => spentOn(record.grinding, "fine"),
  "polish-surface": ({ record }) => spentOn(record.grinding, "polish"),
  "read-bands": ({ summary: { figure } }) =>
    figure?.photos && safe`${counted(figure.photos.length, "photograph")}`,
  "judge-mirror": ({ summary: { verdict } }) =>
    verdict &&
    safe`${verdict.meetsGoal}, of ${scopeOf(verdict)}, probability ${
      probabilityText(verdict.probability)
    }`,
};

function spentOn(rows: readonly GrindingRow[], kind: "fine" | "polish"): Html | undefined {
  const spent = minutes(rows, kind);
  if (spent === 0) return undefined;
  const last = rows.findLast((row) => kindOfGrade(row.abrasive) === kind)?.abrasive ?? "";
  return safe`${plainNumber(spent)} min, as far as ${last}`;
}

/** The quantities of the one list that are told in a stage's line. */
function quantitiesOf({ name }: Stage, { summary }: BookFacts): Html[] {
  return QUANTITIES.filter(({ stage }) => stage === name).flatMap((quantity) => {
    const value = quantity.of(summary);
    return value === undefined ? [] : [safe`${labelOf(quantity)} ${told(value)}`];
  });
}

/**
 * What the record knows, stage by stage; a stage that is not in the map lies ahead.
 */
export function knownStages(facts: BookFacts): ReadonlyMap<Stage, Html> {
  const map = new Map<Stage, Html>();
  for (const stage of course) {
    const said = [known[stage.name]?.(facts), ...quantitiesOf(stage, facts)]
      .filter((part) => part !== undefined);
    const [first, ...rest] = said;
    if (first !== undefined) map.set(stage, safe`${first}${rest.map((part) => safe`, ${part}`)}`);
  }
  return map;
}

/** The stage of the next step: where the maker is. */
export function stageOfNextStep(summary: Summary): Stage | undefined {
  return findStage(summary.nextStep.stage);
}

/** Whether a stage lies behind the mirror, is where it is, or lies ahead. */
export type StageState = "done" | "here" | "ahead";

/** How a state is said. */
export const spokenState: Readonly<Record<StageState, string>> = {
  done: "done",
  here: "you are here",
  ahead: "ahead",
};

/** Whether all that is told of a stage was assumed by the kit, and nothing written by the maker. */
function isAllAssumed(stage: Stage, { record }: BookFacts): boolean {
  return stage.name === "prepare-discs" && !ofDiscs.some((key) => wasWritten(record, key));
}

/**
 * Each stage's state by its notebook's name: done where the record knows something of it or a later one is next.
 */
export function stageStates(facts: BookFacts): ReadonlyMap<string, StageState> {
  const here = stageOfNextStep(facts.summary);
  const known = new Set([...knownStages(facts).keys()].filter((one) => !isAllAssumed(one, facts)));
  return new Map(course.map((stage) => {
    const behind = known.has(stage) || stage.number < (here?.number ?? 0);
    return [stage.stem, stage === here ? "here" : behind ? "done" : "ahead"];
  }));
}
