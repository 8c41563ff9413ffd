// CodeMirror, set up for a piece file. Undo is the piece's own, so that there is one history.
import { defaultKeymap } from "@codemirror/commands";
import { HighlightStyle, StreamLanguage, syntaxHighlighting } from "@codemirror/language";
import { toml } from "@codemirror/legacy-modes/mode/toml";
import { type Diagnostic as Mark, lintGutter, lintKeymap, setDiagnostics } from "@codemirror/lint";
import { Annotation, EditorState } from "@codemirror/state";
import { EditorView, highlightActiveLine, keymap, lineNumbers } from "@codemirror/view";
import { tags } from "@lezer/highlight";
import type { Diagnostic, Edit } from "../api/types";
import { difference } from "./difference";

export interface Editor {
  /** Shows this text, if it shows another, and leaves the cursor where it can. */
  take(text: string): void;
  diagnostics(list: Diagnostic[]): void;
  destroy(): void;
}

const fromServer = Annotation.define<boolean>();

const colours = HighlightStyle.define([
  { tag: tags.comment, color: "var(--pencil)", fontStyle: "italic" },
  { tag: tags.string, color: "var(--green)" },
  { tag: [tags.number, tags.bool, tags.atom], color: "var(--amber)" },
  { tag: [tags.propertyName, tags.keyword], color: "var(--ink)" },
  { tag: tags.bracket, color: "var(--blue)" },
]);

const paper = EditorView.theme({
  "&": { height: "100%", color: "var(--ink)", backgroundColor: "transparent", fontSize: "0.9rem" },
  ".cm-content": { fontFamily: "var(--typewriter)", caretColor: "var(--ink)" },
  ".cm-gutters": { backgroundColor: "transparent", color: "var(--pencil)", border: "0" },
  ".cm-activeLine": { backgroundColor: "color-mix(in srgb, var(--blue-wash) 45%, transparent)" },
  ".cm-tooltip": { backgroundColor: "var(--sheet)", color: "var(--ink)", border: "1px solid var(--ink)" },
  "&.cm-focused .cm-cursor": { borderLeftColor: "var(--ink)" },
  "&.cm-focused .cm-selectionBackground, .cm-selectionBackground": { backgroundColor: "var(--blue-wash) !important" },
});

const severityOf = { error: "error", warning: "warning", advice: "info" } as const;

export function createEditor(parent: HTMLElement, text: string, ontype: (splices: Edit[]) => void): Editor {
  const view = new EditorView({
    parent,
    state: EditorState.create({
      doc: text,
      extensions: [
        EditorState.lineSeparator.of("\n"),
        lineNumbers(),
        lintGutter(),
        highlightActiveLine(),
        StreamLanguage.define(toml),
        syntaxHighlighting(colours),
        paper,
        EditorView.contentAttributes.of({ "aria-label": "Text of the piece file" }),
        keymap.of([...defaultKeymap, ...lintKeymap]),
        EditorView.updateListener.of((update) => {
          if (!update.docChanged || update.transactions.some((one) => one.annotation(fromServer))) return;
          ontype(splicesOf(update.changes));
        }),
      ],
    }),
  });

  return {
    take(next) {
      const change = difference(view.state.doc.toString(), next);
      if (!change) return;
      view.dispatch({
        changes: { from: change.from, to: change.to, insert: change.with },
        annotations: fromServer.of(true),
      });
    },
    diagnostics(list) {
      const end = view.state.doc.length;
      const marks = list.map(
        ({ at, severity, message, hint }): Mark => ({
          from: Math.min(at.from, end),
          to: Math.min(Math.max(at.to, at.from), end),
          severity: severityOf[severity],
          message: hint ? `${message}\n${hint}` : message,
        }),
      );
      view.dispatch(setDiagnostics(view.state, marks));
    },
    destroy: () => view.destroy(),
  };
}

/** The changes of one update, from the last to the first, so that each place still counts in its text. */
function splicesOf(changes: import("@codemirror/state").ChangeSet): Edit[] {
  const splices: Edit[] = [];
  changes.iterChanges((from, to, _fromNow, _toNow, inserted) => {
    splices.unshift({ kind: "splice", from, to, with: inserted.sliceString(0, undefined, "\n") });
  });
  return splices;
}
