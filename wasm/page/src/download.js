// Hands a text to the device as a file.

/** @param {string} name @param {string} type @param {string} text */
export function download(name, type, text) {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}

/** A file name of letters, digits and hyphens. @param {string} words @param {string} ending */
export const fileName = (words, ending) =>
  `${words.normalize("NFKD").replace(/[^\w]+/g, "-").replace(/^-+|-+$/g, "").toLowerCase() || "almanac"}.${ending}`;
