import { config } from "zod/mini";

// The page's security policy forbids code made from text; the schema library would try, and the browser complain.
// Imported before any schema is made.
config({ jitless: true });
