// The lot's label, typed or scanned: a wrong lot is refused loudly.
import type { App } from "./app";
import { h } from "./draw";
import { ask, engineAnswers } from "./engine";

interface Scanner {
  detect(source: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
declare const BarcodeDetector: (new (options: { formats: string[] }) => Scanner) | undefined;

const canScan = (): boolean => typeof BarcodeDetector !== "undefined" && navigator.mediaDevices !== undefined;

/** Label is what the bag should be: the lot, the job's code, the tub's number. */
export interface Label {
  Lot: string;
  Job: string;
  Tub: number;
}

export function lotLabel(app: App, Label: Label, right: () => void): HTMLElement {
  const judge = async (Read: string) => {
    await engineAnswers();
    const { Mistaken } = ask<{ Mistaken: string }>("label", undefined, { Label, Read });
    if (!Mistaken) return right();
    app.wrong = Mistaken;
    navigator.vibrate?.([400, 150, 400]);
    void app.show();
  };
  const typed = h("input", { id: "lot-label", type: "text", autocomplete: "off", autocapitalize: "characters", spellcheck: "false" });
  return h(
    "form",
    { class: "field", submit: (e) => (e.preventDefault(), typed.blur(), void judge(typed.value)) },
    h("label", { for: "lot-label" }, "The lot on the label"),
    h("div", { class: "entry" }, typed, h("button", {}, "Check"), canScan() && h("button", { type: "button", click: () => void scan(judge).catch(() => dark(app)) }, "Scan")),
    !canScan() && h("p", { class: "hint" }, "This phone's browser reads no codes: type what the label says."),
  );
}

/** dark says that the camera could not be had. */
function dark(app: App): void {
  app.wrong = "The camera cannot be used: allow it for this page, or type what the label says.";
  void app.show();
}

/** scan shows the camera's picture until a code is in it, or somebody presses it away. */
async function scan(judge: (code: string) => Promise<void>): Promise<void> {
  if (!BarcodeDetector) return;
  const camera = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
  const picture = h("video", { class: "camera", playsinline: true, click: () => close() });
  let open = true;
  const close = () => {
    open = false;
    camera.getTracks().forEach((track) => track.stop());
    picture.remove();
  };
  picture.srcObject = camera;
  document.body.append(picture);
  await picture.play();
  const eye = new BarcodeDetector({ formats: ["qr_code", "code_128"] });
  while (open) {
    const seen = await eye.detect(picture).catch(() => []);
    if (seen[0] && open) {
      close();
      return judge(seen[0].rawValue);
    }
    await new Promise(requestAnimationFrame);
  }
}
