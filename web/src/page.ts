// What script adds to every page: a form cannot be sent twice by a hasty thumb, a link is
// copied by one press, and a picture follows the values that it is drawn from. Each page does its whole work without any of this.
import { copyOnPress } from "./page/copy";
import { previewForms } from "./page/preview";
import { keyForms, sendOnce } from "./page/once";

keyForms(document);
sendOnce(document);
copyOnPress(document);
previewForms(document);
