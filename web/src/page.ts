// What script adds to every page: a form cannot be sent twice by a hasty thumb, and a
// link is copied by one press. Each page does its whole work without any of this.
import { copyOnPress } from "./page/copy";
import { keyForms, sendOnce } from "./page/once";

keyForms(document);
sendOnce(document);
copyOnPress(document);
