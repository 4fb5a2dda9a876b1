// The lot's label, typed or scanned: a wrong lot is refused loudly.
import type { App } from "./app";
import { h } from "./draw";

interface Scanner {
  detect(source: CanvasImageSource): Promise<{ rawValue: string }[]>;
}
declare const BarcodeDetector: (new (options: { formats: string[] }) => Scanner) | undefined;

const canScan = (): boolean => typeof BarcodeDetector !== "undefined" && navigator.mediaDevices !== undefined;

export function lotLabel(app: App, wanted: string, right: () => void): HTMLElement {
  const judge = (typed: string) => {
    if (same(typed, wanted)) return right();
    app.wrong = typed.trim() === "" ? `Type what the label says. The tub wants ${wanted}.` : `Stop: that is ${typed.trim()}. The tub wants ${wanted}. Put it back, and take the right bag.`;
    navigator.vibrate?.([400, 150, 400]);
    void app.show();
  };
  const typed = h("input", { id: "lot-label", type: "text", autocomplete: "off", autocapitalize: "characters", spellcheck: "false" });
  return h(
    "form",
    { class: "field", submit: (e) => (e.preventDefault(), typed.blur(), judge(typed.value)) },
    h("label", { for: "lot-label" }, "The lot on the label"),
    h("div", { class: "entry" }, typed, h("button", {}, "Check"), canScan() && h("button", { type: "button", click: () => void scan(judge) }, "Scan")),
  );
}

/** same lets spaces, dashes and small letters pass: gloves type badly. */
function same(typed: string, wanted: string): boolean {
  const plain = (code: string) => code.toUpperCase().replace(/[\s\-–]/g, "");
  return plain(typed) === plain(wanted);
}

/** scan shows the camera's picture until a code is in it, or somebody presses it away. */
async function scan(judge: (code: string) => void): Promise<void> {
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
