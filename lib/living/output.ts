/** What cells put out, as notebooks store it. */

/** MIME types and what is shown for each: text, or JSON for the +json types. */
export type MimeBundle = Record<string, unknown>;

/** What a cell has put out, as nbformat 4.5 stores it; texts joined to one string. */
export type Output =
  | { readonly output_type: "stream"; readonly name: "stdout" | "stderr"; readonly text: string }
  | {
    readonly output_type: "display_data";
    readonly data: MimeBundle;
    readonly metadata: Record<string, unknown>;
  }
  | {
    readonly output_type: "execute_result";
    readonly execution_count: number | null;
    readonly data: MimeBundle;
    readonly metadata: Record<string, unknown>;
  }
  | {
    readonly output_type: "error";
    readonly ename: string;
    readonly evalue: string;
    readonly traceback: readonly string[];
  };
