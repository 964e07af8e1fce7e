// What a finger and an eye meet on the page as it stands: sizes of targets, contrast of every text, width.
() => {
  const seen = (element) => {
    const box = element.getBoundingClientRect();
    return box.width > 0 && box.height > 0 && element.checkVisibility({ visibilityProperty: true });
  };
  const numbers = (color) => color.match(/[\d.]+/g).map(Number);
  const light = ([r, g, b]) => {
    const part = (value) => {
      const share = value / 255;
      return share <= 0.04045 ? share / 12.92 : ((share + 0.055) / 1.055) ** 2.4;
    };
    return 0.2126 * part(r) + 0.7152 * part(g) + 0.0722 * part(b);
  };
  const behind = (element) => {
    for (let at = element; at; at = at.parentElement) {
      const color = numbers(getComputedStyle(at).backgroundColor);
      if (color.length < 4 || color[3] === 1) return color.slice(0, 3);
      if (color[3] !== 0) throw new Error("half a background cannot be judged: " + at.outerHTML);
    }
    return [255, 255, 255];
  };
  const contrast = (ink, paper) => {
    const [low, high] = [light(ink), light(paper)].sort((a, b) => a - b);
    return (high + 0.05) / (low + 0.05);
  };
  const targets = [...document.querySelectorAll("a, button, input, select, textarea, summary, [role=button]")]
    .filter(seen)
    .map((element) => {
      const box = element.getBoundingClientRect();
      return {
        tag: element.tagName.toLowerCase(),
        layer: element.closest(".bar, .pad") ? "over" : "page",
        small: element.closest(".small, .units") !== null,
        says: element.textContent.trim() || element.name,
        left: box.left,
        top: box.top,
        width: box.width,
        height: box.height,
      };
    });
  const texts = [];
  const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
  while (walker.nextNode()) {
    const element = walker.currentNode.parentElement;
    if (!walker.currentNode.data.trim() || !seen(element)) continue;
    const style = getComputedStyle(element);
    texts.push({
      says: walker.currentNode.data.trim().slice(0, 40),
      size: parseFloat(style.fontSize),
      contrast: contrast(numbers(style.color), behind(element)),
    });
  }
  for (const field of document.querySelectorAll("input")) {
    for (const part of [null, "::placeholder"]) {
      const style = getComputedStyle(field, part);
      texts.push({
        says: "field " + field.name + (part || ""),
        size: parseFloat(style.fontSize),
        contrast: contrast(numbers(style.color), behind(field)),
      });
    }
  }
  return { targets, texts, wide: document.documentElement.scrollWidth, screen: innerWidth };
};
