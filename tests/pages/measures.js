() => {
  const rgba = (text) => (text.match(/[\d.]+/g) || []).map(Number);
  const alpha = (colour) => (colour.length > 3 ? colour[3] : 1);
  const canvas = () => {  // what the browser paints where nobody says a colour
    const dark = matchMedia("(prefers-color-scheme: dark)").matches && !matchMedia("print").matches;
    return dark ? [18, 18, 18] : [255, 255, 255];
  };
  const ground = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const colour = rgba(getComputedStyle(at).backgroundColor);
      if (alpha(colour) === 1) return colour.slice(0, 3);
    }
    return canvas();
  };
  const colours = new Map();
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const words = walker.currentNode.textContent.trim();
    const element = walker.currentNode.parentElement;
    if (!words || ["STYLE", "TITLE", "title"].includes(element.tagName)) continue;
    if (!element.getClientRects().length) continue;
    const style = getComputedStyle(element);
    const drawn = element.namespaceURI.endsWith("svg");
    const colour = rgba(drawn ? style.fill : style.color).slice(0, 3);
    const under = ground(element);
    colours.set(JSON.stringify([colour, under]), [colour, under, words.slice(0, 60)]);
  }
  const edge = document.documentElement.clientWidth + 0.5;
  const wide = [...document.body.querySelectorAll("*")].filter((element) => {
    if (element.closest("svg") && element.tagName !== "svg") return false;
    return element.getBoundingClientRect().right > edge;
  }).map((element) => `${element.tagName}: ${element.textContent.trim().slice(0, 60)}`);
  if (document.documentElement.scrollWidth > edge) wide.push("the page itself");
  const all = [...document.querySelectorAll("*")];
  return {
    text: document.body.innerText,
    title: document.title,
    wide,
    colours: [...colours.values()],
    elements: [...new Set(all.map((element) => element.tagName.toLowerCase()))],
    handlers: all.flatMap((element) => [...element.attributes].map((a) => a.name)
      .filter((name) => name.startsWith("on") || name === "href" && element.tagName !== "use")),
    rows: [...document.querySelectorAll("table.bulls tbody tr")].map((row) => [row.closest("table").querySelector("h2")?.innerText ?? "", row.innerText]),
  };
}
