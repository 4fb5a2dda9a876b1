/** A press on [data-copy] copies the field beside it. Where the browser allows no copying
 *  the field is selected, so that the person can. */
export function copyOnPress(page: Document): void {
  page.addEventListener("click", (event) => {
    const button = (event.target as Element).closest<HTMLElement>("[data-copy]");
    const field = button?.parentElement?.querySelector<HTMLInputElement>("input");
    if (!button || !field) return;
    event.preventDefault();
    field.select();
    void copy(field.value).then((copied) => {
      button.textContent = copied ? "Copied" : "Selected: copy it now";
    });
  });
}

async function copy(text: string): Promise<boolean> {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}
