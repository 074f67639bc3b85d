/** The book: notebooks run on the real Deno kernel, pages rendered, a book put in its place whole. */
export { buildBook, type BuildOptions, BuildStopped, type BuiltBook, Busy } from "./build.ts";
export { course, findStage, type Part, type Stage } from "../lessons/course.ts";
export { type Notebook, parseNotebook, readNotebook, writeNotebook } from "./notebook.ts";
export { chaptersOf } from "./pages/chapters.ts";
export { contentsPage } from "./pages/contentsPage.ts";
export type { BookFacts } from "./pages/facts.ts";
export { lessonPage } from "./pages/lessonPage.ts";
export { reportPage } from "./pages/reportPage.ts";
export {
  type Progress,
  progressText,
  runNotebooks,
  type RunOptions,
  type RunResult,
} from "./runner.ts";
export { ShelfRefused } from "./shelf.ts";
