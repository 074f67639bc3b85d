/** The markup of a table's form: inputs named as the columns, each with what it means, an example, and a place for its refusal. */
import { type Html, safe, trusted } from "../figures/html.ts";
import type { FormField, TableForm } from "./tableForm.ts";

/**
 * The form; what it does is the page's.
 *
 * A photograph's field is a file input, which on a phone opens the camera. Words to choose from are keys that fill the field,
 * and so is the plus sign between leaves, which the keys for numbers of some phones lack.
 *
 * @param form  as `tableForm` makes it
 * @param id    by which the page tells this form from its others
 */
export function formHtml(form: TableForm, id: string): Html {
  const { table, title, remarks, fields } = form;
  return safe`<form data-table="${table}" id="${id}" novalidate aria-labelledby="${id}-title">
<h3 id="${id}-title">A new row of ${table}.csv<span class="sr">: ${title}</span></h3>
${
    remarks.map((remark) =>
      safe`<p class="remark">${remark}</p>
`
    )
  }<div class="fields">
${fields.map((field, at) => fieldHtml(field, `${id}-${at}`))}</div>
<p data-refusal="" role="status"></p>
<p class="acts"><button type="submit" class="push">Add</button><button type="button" class="act" data-take-files disabled>Take the files</button><span class="note" data-said role="status"></span></p>
</form>
`;
}

function fieldHtml(field: FormField, id: string): Html {
  const { name, label, unit, meaning, example, write, choices, usual } = field;
  const says = safe`<small id="${id}-says">${meaning}${
    write !== "photo" && `, such as ${example}`
  }</small>
<span data-refusal="${name}" id="${id}-no" role="status"></span>`;
  const head = safe`<label for="${id}"><b>${label}</b>${unit !== undefined && `, ${unit}`}</label>`;
  const by = safe`aria-describedby="${id}-says ${id}-no"`;
  if (write === "photo") {
    return safe`<div class="field">${head}<input type="file" id="${id}" name="${name}" aria-label="Take a photograph" accept="image/jpeg,image/png" capture="environment" ${by}>
${says}</div>
`;
  }
  const keys = write === "words" ? "" : trusted(' inputmode="decimal"');
  return safe`<div class="field">${head}<input type="text" id="${id}" name="${name}"${keys} autocomplete="off"${
    usual !== undefined && safe` value="${usual}"`
  } ${by}>
${
    write === "sum" &&
    safe`<button type="button" class="act" data-put="+" data-into="${id}">+ one more leaf</button>
`
  }${
    choices !== undefined &&
    safe`<span class="words" role="group" aria-label="${label}: words to choose from">${
      choices.map((word) =>
        safe`<button type="button" class="act" data-word="${word}" data-into="${id}">${word}</button> `
      )
    }</span>
`
  }${says}</div>
`;
}
