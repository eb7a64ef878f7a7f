// What is looked at, saved as a picture: the drawing with the colours that it has on the screen.

import { svgNS } from "./common.js";

const SHOWN = [
  "font-family",
  "font-weight",
  "fill",
  "fill-opacity",
  "fill-rule",
  "stroke",
  "stroke-width",
  "stroke-opacity",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "vector-effect",
  "display",
];

/**
 * Save the picture that is shown, as SVG or as an image.
 * @param {string} kind
 * @param {object} view
 * @param {object} zoom
 */
export async function savePicture(kind, view, zoom) {
  if (!view) return;
  const { width, height } = zoom.size();
  const text = standalone(zoom.svg, width, height);
  const name = `${
    view.title
      .toLowerCase()
      .replace(/[^a-z0-9]+/g, "-")
      .replace(/^-|-$/g, "") || "job"
  }-drawing`;
  if (kind === "svg") {
    download(new Blob([text], { type: "image/svg+xml" }), `${name}.svg`);
    return;
  }
  const image = new Image();
  image.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(text)}`;
  await image.decode();
  const canvas = document.createElement("canvas");
  canvas.width = width * 2;
  canvas.height = height * 2;
  canvas.getContext("2d").drawImage(image, 0, 0, canvas.width, canvas.height);
  canvas.toBlob((blob) => download(blob, `${name}.png`), "image/png");
}

/**
 * The SVG with every style written into it, so that it looks the same anywhere.
 * @param {SVGElement} svg
 * @param {number} width
 * @param {number} height
 */
export function standalone(svg, width, height) {
  const copy = svg.cloneNode(true);
  const from = [svg, ...svg.querySelectorAll("*")],
    to = [copy, ...copy.querySelectorAll("*")];
  from.forEach((element, i) => {
    const style = getComputedStyle(element);
    for (const name of SHOWN) {
      const value = style.getPropertyValue(name);
      if (value && !(name === "display" && value !== "none")) to[i].setAttribute(name, value.replaceAll('"', "'"));
    }
  });
  for (const hidden of copy.querySelectorAll('[display="none"]')) if (hidden.closest("defs") === null) hidden.remove();
  copy.setAttribute("xmlns", svgNS);
  copy.setAttribute("width", width);
  copy.setAttribute("height", height);
  const [x, y, w, t] = svg.getAttribute("viewBox").split(" ").map(Number);
  const ground = document.createElementNS(svgNS, "rect");
  for (const [key, value] of Object.entries({
    x: x - w * 2,
    y: y - t * 2,
    width: w * 5,
    height: t * 5,
    fill: getComputedStyle(document.documentElement).getPropertyValue("--ground").trim(),
  }))
    ground.setAttribute(key, value);
  copy.prepend(ground);
  return new XMLSerializer().serializeToString(copy);
}

function download(blob, name) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(blob);
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 10000);
}
