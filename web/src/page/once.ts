/** Gives every form that has an input named "key" a key of its own, so that the program
 *  knows a second arrival of the same post for what it is. */
export function keyForms(page: Document): void {
  for (const input of page.querySelectorAll<HTMLInputElement>('form input[name="key"]')) {
    if (input.value === "") input.value = newKey();
  }
}

/** Lets a form be sent once. Coming back to the page arms its forms again, with new keys. */
export function sendOnce(page: Document): void {
  page.addEventListener("submit", (event) => {
    const form = event.target as HTMLFormElement;
    if (form.dataset.sent !== undefined) {
      event.preventDefault();
      return;
    }
    if (form.method !== "post" || event.defaultPrevented) return;
    form.dataset.sent = "";
    event.submitter?.setAttribute("aria-disabled", "true");
  });
  window.addEventListener("pageshow", (event) => {
    if (event.persisted) rearm(page);
  });
}

function rearm(page: Document): void {
  for (const form of page.querySelectorAll<HTMLFormElement>("form[data-sent]")) {
    delete form.dataset.sent;
    form.querySelector("[aria-disabled]")?.removeAttribute("aria-disabled");
    const key = form.querySelector<HTMLInputElement>('input[name="key"]');
    if (key) key.value = newKey();
  }
}

/** 122 bits of chance. randomUUID is missing where a page came without TLS, as it does
 *  from a machine in the same shed. */
export function newKey(): string {
  if (typeof crypto.randomUUID === "function") return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, "0")).join("");
}
