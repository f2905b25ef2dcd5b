// What is folded away and belongs on paper all the same.

/** Opens such folds while the page is printed. @param {Element} root */
export function openForPaper(root) {
  /** @type {NodeListOf<HTMLDetailsElement> | never[]} */
  let opened = [];
  addEventListener("beforeprint", () => {
    opened = root.querySelectorAll("details.later:not([open])");
    for (const one of opened) one.open = true;
  });
  addEventListener("afterprint", () => {
    for (const one of opened) one.open = false;
    opened = [];
  });
}
