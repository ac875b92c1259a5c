// A plan's picture to show around: looked at in a dialog, saved, copied, or given to the system's share sheet.

import { download } from "./download.js";

// Twice as many dots as the drawing has units: sharp on a screen that shows them close.
const SCALE = 2;

function fileName(name, ending) {
  const day = new Date();
  const two = (number) => String(number).padStart(2, "0");
  const words = name.toLowerCase().replace(/[^\p{L}\p{N}]+/gu, "-").replace(/^-|-$/g, "") || "raft-bath";
  return `${words}-${day.getFullYear()}-${two(day.getMonth() + 1)}-${two(day.getDate())}.${ending}`;
}

/** The address of the drawing as an image; the page's policy allows images only from here and from such addresses. */
function addressOf(svg) {
  return `data:image/svg+xml;charset=utf-8,${encodeURIComponent(svg)}`;
}

/** The drawing as a picture of dots. */
export async function dots(svg) {
  const image = new Image();
  image.src = addressOf(svg);
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = image.naturalWidth * SCALE;
  canvas.height = image.naturalHeight * SCALE;
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  return new Promise((resolve, reject) => {
    canvas.toBlob((made) => (made ? resolve(made) : reject(new Error("This browser makes no picture of it."))),
      "image/png");
  });
}

function button(words, act) {
  const made = document.createElement("button");
  made.type = "button";
  made.textContent = words;
  made.addEventListener("click", act);
  return made;
}

/** Show the picture of a plan and what can be done with it. */
export function showPicture(svg, name) {
  const box = document.createElement("dialog");
  box.className = "question picture-box";
  box.setAttribute("aria-label", `Picture of “${name}”`);
  const image = document.createElement("img");
  image.src = addressOf(svg);
  image.alt = `Drawing, figures and verdict of “${name}”`;
  const said = document.createElement("p");
  said.setAttribute("role", "status");
  const tell = (words) => { said.textContent = words; };
  // Made ahead: some browsers let a page copy or share only at once after a press.
  const png = dots(svg);
  png.catch(() => {});
  const attempt = (work) => () => work().catch((error) => {
    if (error.name !== "AbortError") tell(`That did not work here: ${error.message}`);
  });
  const row = document.createElement("div");
  row.className = "acts";
  row.append(
    button("Save as PNG", attempt(async () => download(fileName(name, "png"), await png, "image/png"))),
    button("Save as SVG", attempt(async () => download(fileName(name, "svg"), svg, "image/svg+xml"))));
  if (navigator.clipboard?.write && typeof ClipboardItem === "function") {
    row.append(button("Copy", attempt(async () => {
      await navigator.clipboard.write([new ClipboardItem({ "image/png": png })]);
      tell("Copied.");
    })));
  }
  const file = new File([svg], fileName(name, "png"), { type: "image/png" });
  if (navigator.canShare?.({ files: [file] })) {
    row.append(button("Share", attempt(async () => {
      await navigator.share({ title: name, files: [new File([await png], file.name, { type: "image/png" })] });
    })));
  }
  row.append(button("Close", () => box.close()));
  box.append(image, row, said);
  box.addEventListener("close", () => box.remove());
  document.body.append(box);
  box.showModal();
}
