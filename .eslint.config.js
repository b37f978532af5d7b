import tseslint from "typescript-eslint";

/** Longest line that may carry prose, and from how many words on a text is prose. */
const LONGEST_LINE = 140;
const PROSE_WORDS = 5;

/** Sentences, in strings and comments, are read as texts: no line with one runs out of sight. */
const proseInSight = {
  meta: { type: "layout", schema: [], messages: { long: "a line of {{length}} characters carries prose; break the text before {{longest}}" } },
  create(context) {
    const { lines } = context.sourceCode;
    const look = (node, text) => {
      if (text.trim().split(/\s+/).length < PROSE_WORDS) return;
      const { start, end } = node.loc;
      const { length } = lines[start.line - 1];
      // a text of several lines is markup or a style sheet, with lines of its own
      if (start.line !== end.line || length <= LONGEST_LINE) return;
      context.report({ loc: start, messageId: "long", data: { length, longest: LONGEST_LINE } });
    };
    return {
      Literal: (node) => typeof node.value === "string" && look(node, node.value),
      TemplateLiteral: (node) => look(node, node.quasis.map(({ value }) => value.raw).join(" ")),
      Program: () => context.sourceCode.getAllComments().forEach((comment) => look(comment, comment.value)),
    };
  },
};

export default tseslint.config(
  ...tseslint.configs.strictTypeChecked,
  {
    languageOptions: { parserOptions: { project: "./test/tsconfig.json", tsconfigRootDir: import.meta.dirname } },
    rules: {
      // indices are checked by the loops around them; the compiler asks for the mark
      "@typescript-eslint/no-non-null-assertion": "off",
      "@typescript-eslint/restrict-template-expressions": ["error", { allowNumber: true, allowBoolean: true }],
      "@typescript-eslint/no-confusing-void-expression": ["error", { ignoreArrowShorthand: true }],
    },
  },
  {
    files: ["sim/**", "reports/**"],
    plugins: { texts: { rules: { "prose-in-sight": proseInSight } } },
    rules: { "texts/prose-in-sight": "error" },
  },
);
