/** The class as one page: what to mind, whom to go to, where each mirror is, how far the makers lie apart, who waits for what. */
import { safe, trusted } from "../../figures/html.ts";
import type { ClassOfRecords } from "../../knowledge/classOfRecords.ts";
import { isInInches } from "../../knowledge/classRow.ts";
import { pageInInches } from "../../quantity/inches.ts";
import { makersApart } from "../../stages/makers.ts";
import { classTable, decideClass, mindFirst, queues, whoFirst } from "../../stages/many.ts";
import { KIT_VERSION } from "../../version.ts";
import { counted } from "./facts.ts";
import { plainBar, shell } from "./shell.ts";

/**
 * A page of a class, one file that loads nothing.
 *
 * @param many    a class as `openClass` reads it
 * @param inBook  with the bar of a book's pages; without it the page stands alone
 */
export function classPage(many: ClassOfRecords, inBook = false): string {
  const at = { many, isDemo: false };
  const blocks = [mindFirst, decideClass, whoFirst, classTable, makersApart, queues]
    .map((block) => block(at));
  const unread = many.unreadable.length;
  const page = shell({
    title: `${many.name} · First Mirror`,
    description: "A class of mirrors at a glance.",
    kind: "many",
    header: safe`${inBook && plainBar(false)}
<div class="title">
<p class="kicker">The class at a glance${many.today !== undefined && ` · ${many.today}`}</p>
<h1>${many.name}</h1>
</div>
<p class="dims">${counted(many.rows.length, "mirror")}${
      unread > 0 && `, and ${counted(unread, "record")} that cannot be read`
    }. Names stay at home: bench numbers and colours.</p>`,
    main: safe`${blocks.map(({ html }) => trusted(html))}`,
    footer:
      safe`<p>Idle days are counted back from the latest day any record tells of. First Mirror ${KIT_VERSION}.</p>`,
  });
  return isInInches(many.rows) ? pageInInches(page) : page;
}
