// The portfolio's behaviour: filters, search, years, and the viewer of a plate. Without it the pages still show
// everything; nothing is fetched and nothing is kept.
"use strict";

(() => {
  const byId = (id) => document.getElementById(id);
  const make = (tag, props = {}, ...inside) => {
    const made = Object.assign(document.createElement(tag), props);
    made.append(...inside);
    return made;
  };

  // Letters without their marks, in small: "Été" is found by "ete".
  const plain = (text) => text.normalize("NFD").replace(/\p{M}/gu, "").toLowerCase();

  // ---- The grid ----

  const grid = byId("grid");
  const works = globalThis.OFFLOOM_WORKS;
  if (grid && works) gallery(grid, works);

  function gallery(grid, { root, words, facets, works }) {
    const A_SCREEN = 48;
    const form = byId("filters");
    const search = byId("q");
    const order = byId("order");
    const more = byId("more");
    const count = byId("count");
    const years = byId("years");
    const haystack = works.map((w) => plain([w.title, w.made, ...facets.map((f) => text(f, w)), w.words || ""].join(" ")));
    const selects = facets.map((f) => byId(f.id));
    let year = "";
    let shown = [];
    let drawn = 0;

    // What a work says under a facet: indices into its values.
    function values(facet, w) {
      const v = w[facet.id];
      return v === undefined ? [] : Array.isArray(v) ? v : [v];
    }
    function text(facet, w) {
      return values(facet, w).map((i) => facet.values[i]).join(" ");
    }

    function card(w) {
      const plate = w.thumb
        ? make("span", { className: "plate" }, make("img", {
            loading: "lazy", decoding: "async", alt: "", width: w.size_px[0], height: w.size_px[1], src: root + w.thumb,
          }))
        : make("span", { className: "plate empty" }, words.no_picture);
      return make("li", {}, make("a", { href: `piece/${encodeURIComponent(w.slug)}.html` }, plate,
        make("span", { className: "name" }, w.title), " ", make("span", { className: "made" }, w.made)));
    }

    function draw() {
      const until = Math.min(drawn + A_SCREEN, shown.length);
      const batch = document.createDocumentFragment();
      for (; drawn < until; drawn += 1) batch.append(card(works[shown[drawn]]));
      grid.append(batch);
      more.hidden = drawn >= shown.length;
    }

    function apply() {
      const needles = plain(search.value).split(/\s+/).filter(Boolean);
      const wanted = selects.map((s) => (s.value === "" ? -1 : Number(s.value)));
      const fits = (w, i) =>
        needles.every((n) => haystack[i].includes(n)) &&
        wanted.every((v, k) => v < 0 || values(facets[k], w).includes(v));
      const before = works.map((w, i) => i).filter((i) => fits(works[i], i));
      shown = year === "" ? before : before.filter((i) => String(works[i].year ?? "") === year);
      if (order.value === "old") shown.reverse();
      grid.replaceChildren();
      drawn = 0;
      draw();
      timeline(before);
      count.textContent = shown.length === 0 ? words.none
        : shown.length === 1 ? words.count_one : words.count.replace("{count}", shown.length);
      keep();
    }

    // One bar a year, as tall as the works of that year that fit.
    const bars = new Map();
    function timeline(fitting) {
      const counts = new Map();
      for (const i of fitting) {
        const y = String(works[i].year ?? "");
        if (y !== "") counts.set(y, (counts.get(y) || 0) + 1);
      }
      const most = Math.max(1, ...counts.values());
      for (const [y, { button, bar }] of bars) {
        const n = counts.get(y) || 0;
        bar.style.height = `${(n / most) * 5}rem`;
        button.setAttribute("aria-pressed", String(y === year));
        button.setAttribute("aria-label", words.by_year.replace("{year}", y).replace("{count}", n));
        button.disabled = n === 0 && y !== year;
      }
    }

    // What is asked stays in the address, so that it can be sent to somebody and the way back works.
    function keep() {
      const asked = new URLSearchParams();
      if (search.value) asked.set("q", search.value);
      facets.forEach((f, k) => selects[k].value !== "" && asked.set(f.id, f.keys ? f.keys[selects[k].value] : f.values[selects[k].value]));
      if (year) asked.set("year", year);
      if (order.value) asked.set("order", order.value);
      const hash = asked.toString();
      if (hash !== location.hash.slice(1)) history.replaceState(null, "", hash ? `#${hash}` : location.pathname + location.search);
    }
    function recall() {
      const asked = new URLSearchParams(location.hash.slice(1));
      search.value = asked.get("q") || "";
      facets.forEach((f, k) => {
        const at = (f.keys || f.values).indexOf(asked.get(f.id));
        selects[k].value = at < 0 ? "" : String(at);
      });
      order.value = asked.get("order") === "old" ? "old" : "";
      year = bars.has(asked.get("year")) ? asked.get("year") : "";
      apply();
    }

    facets.forEach((f, k) => {
      f.values.forEach((v, i) => selects[k].append(make("option", { value: String(i) }, v)));
      selects[k].closest("p").hidden = f.values.length < 2;
    });
    const all = [...new Set(works.map((w) => w.year).filter((y) => y !== undefined))].sort((a, b) => a - b);
    let last = null;
    for (const y of all.map(String)) {
      if (last !== null && Number(y) - last > 1) {
        years.firstElementChild.append(make("li", { className: "gap", ariaHidden: "true" }, "…"));
      }
      last = Number(y);
      const bar = make("span", { className: "bar" });
      const button = make("button", { type: "button" }, bar, y);
      button.addEventListener("click", () => { year = year === y ? "" : y; apply(); });
      bars.set(y, { button, bar });
      years.firstElementChild.append(make("li", {}, button));
    }
    years.hidden = all.length < 2;
    form.hidden = false;
    form.addEventListener("submit", (e) => e.preventDefault());
    form.addEventListener("input", apply);
    byId("clear").addEventListener("click", () => {
      form.reset();
      year = "";
      apply();
      search.focus();
    });
    more.addEventListener("click", () => {
      const first = drawn;
      draw();
      grid.children[first]?.querySelector("a").focus();
    });
    new IntersectionObserver((seen) => {
      if (seen.some((s) => s.isIntersecting) && !more.hidden) draw();
    }, { rootMargin: "600px" }).observe(more.parentElement);
    addEventListener("hashchange", recall);
    // A slash goes to the search, as in many places; never while something is being written.
    addEventListener("keydown", (e) => {
      const writing = e.target.closest?.("input, select, textarea");
      if (e.key === "/" && !writing && !e.ctrlKey && !e.metaKey && !e.altKey) { e.preventDefault(); search.focus(); }
    });
    recall();
  }

  // ---- The viewer ----

  const viewer = byId("viewer");
  if (viewer && viewer.showModal) looking(viewer);

  function looking(viewer) {
    const stage = viewer.querySelector(".stage");
    const image = make("img", { alt: "", draggable: false });
    stage.append(image);
    const fingers = new Map();
    let scale = 1, x = 0, y = 0, whole = 1, opener = null;

    const most = () => Math.max(4, whole * 4);
    function place(smooth) {
      const { clientWidth: w, clientHeight: h } = stage;
      const [iw, ih] = [image.naturalWidth * scale, image.naturalHeight * scale];
      x = iw <= w ? (w - iw) / 2 : Math.min(0, Math.max(w - iw, x));
      y = ih <= h ? (h - ih) / 2 : Math.min(0, Math.max(h - ih, y));
      image.classList.toggle("smooth", Boolean(smooth));
      image.style.transform = `translate(${x}px, ${y}px) scale(${scale})`;
      viewer.dataset.scale = (scale / whole).toFixed(3);
    }
    function fit() {
      whole = Math.min(stage.clientWidth / image.naturalWidth, (stage.clientHeight - 120) / image.naturalHeight) || 1;
      scale = whole;
      place();
    }
    // Enlarges about a point of the stage that stays where it is.
    function zoom(by, cx = stage.clientWidth / 2, cy = stage.clientHeight / 2, smooth = true) {
      const next = Math.min(most(), Math.max(whole, scale * by));
      x = cx - ((cx - x) * next) / scale;
      y = cy - ((cy - y) * next) / scale;
      scale = next;
      place(smooth);
    }
    function open(link) {
      opener = link;
      const small = link.querySelector("img");
      stage.setAttribute("aria-label", small.alt || stage.getAttribute("aria-label"));
      image.src = small.currentSrc || small.src;
      viewer.showModal();
      const large = new Image();
      large.onload = () => { image.src = large.src; image.decode().then(fit, fit); };
      large.src = link.href;
      if (image.complete) fit(); else image.onload = fit;
      stage.focus();
    }

    document.querySelectorAll("a.zoom").forEach((link) => link.addEventListener("click", (e) => {
      if (e.ctrlKey || e.metaKey || e.shiftKey) return;
      e.preventDefault();
      open(link);
    }));
    document.querySelectorAll(".enlarge").forEach((button) => {
      button.hidden = false;
      button.addEventListener("click", () => { open(button.closest("figure").querySelector("a.zoom")); opener = button; });
    });
    viewer.addEventListener("close", () => opener?.focus());
    viewer.querySelector(".tools").addEventListener("click", (e) => {
      const what = e.target.dataset?.do;
      if (what === "in") zoom(1.5);
      if (what === "out") zoom(1 / 1.5);
      if (what === "whole") fit();
      if (what === "close") viewer.close();
    });
    viewer.addEventListener("keydown", (e) => {
      const step = 80;
      const moves = { ArrowLeft: [step, 0], ArrowRight: [-step, 0], ArrowUp: [0, step], ArrowDown: [0, -step] };
      if (e.key === "+" || e.key === "=") zoom(1.5);
      else if (e.key === "-") zoom(1 / 1.5);
      else if (e.key === "0") fit();
      else if (moves[e.key]) { x += moves[e.key][0]; y += moves[e.key][1]; place(true); }
      else return;
      e.preventDefault();
    });
    stage.addEventListener("wheel", (e) => {
      e.preventDefault();
      const box = stage.getBoundingClientRect();
      zoom(Math.exp(-e.deltaY / 400), e.clientX - box.left, e.clientY - box.top, false);
    }, { passive: false });
    stage.addEventListener("dblclick", (e) => zoom(scale > whole * 1.05 ? 1e-9 : 3, e.clientX, e.clientY));
    stage.addEventListener("pointerdown", (e) => { stage.setPointerCapture(e.pointerId); fingers.set(e.pointerId, e); });
    stage.addEventListener("pointermove", (e) => {
      const last = fingers.get(e.pointerId);
      if (!last) return;
      if (fingers.size === 1) {
        x += e.clientX - last.clientX;
        y += e.clientY - last.clientY;
        place();
      } else {
        const other = [...fingers.entries()].find(([id]) => id !== e.pointerId)[1];
        const apart = (p) => Math.hypot(p.clientX - other.clientX, p.clientY - other.clientY) || 1;
        zoom(apart(e) / apart(last), (e.clientX + other.clientX) / 2, (e.clientY + other.clientY) / 2, false);
      }
      fingers.set(e.pointerId, e);
    });
    for (const end of ["pointerup", "pointercancel"]) stage.addEventListener(end, (e) => fingers.delete(e.pointerId));
    addEventListener("resize", () => viewer.open && fit());
  }
})();
