// A text, or bytes, handed to the reader as a file.

/** Hand something to the reader as a file; `content` is a text or a Blob. */
export function download(name, content, type) {
  const address = URL.createObjectURL(content instanceof Blob ? content : new Blob([content], { type }));
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}
