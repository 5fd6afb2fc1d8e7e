// Runs in the browser: measures every shape of every drawing of `drawings`.
//
// The root stands at 0,0 of the window, so that a shape's screen matrix leads to the px of its page.
// A `use` is replaced by what SVG 2, 5.5 says it stands for, since the elements of its shadow tree
// can't be asked; the browser still does all the geometry.
const NS = "http://www.w3.org/2000/svg";
const TEMPLATES = "defs,symbol,clipPath,mask,marker,pattern,linearGradient,radialGradient";
const MOST_USES = 10000;

function hrefOf(use) {
	return use.getAttribute("href") ?? use.getAttributeNS("http://www.w3.org/1999/xlink", "href");
}

function moveChildren(from, to) {
	while (from.firstChild)
		to.appendChild(from.firstChild);
}

// A symbol, or an svg, that a use gives its size to.
function viewportOf(use, copy) {
	const svg = copy.localName === "symbol" ? document.createElementNS(NS, "svg") : copy;
	if (svg !== copy) {
		for (const { name, value } of [...copy.attributes])
			svg.setAttribute(name, value);
		moveChildren(copy, svg);
	}
	for (const name of ["width", "height"]) {
		if (use.hasAttribute(name))
			svg.setAttribute(name, use.getAttribute(name));
	}
	return svg;
}

function expand(root, use) {
	const target = root.querySelector("#" + CSS.escape(decodeURIComponent(hrefOf(use).slice(1))));
	const group = document.createElementNS(NS, "g");
	const shift = document.createElementNS(NS, "g");
	for (const { name, value } of [...use.attributes]) {
		if (!["x", "y", "width", "height", "href", "xlink:href", "data-index"].includes(name))
			group.setAttribute(name, value);
	}
	shift.setAttribute("transform", `translate(${use.x.baseVal.value} ${use.y.baseVal.value})`);
	shift.setAttribute("data-use", use.getAttribute("data-index"));
	if (target) {
		const copy = target.cloneNode(true);
		copy.removeAttribute("id");
		shift.appendChild(["symbol", "svg"].includes(copy.localName) ? viewportOf(use, copy) : copy);
	}
	group.appendChild(shift);
	use.replaceWith(group);
}

function expandUses(root) {
	for (let i = 0; i < MOST_USES; i++) {
		const use = [...root.querySelectorAll("use")].find((one) => !one.closest(TEMPLATES));
		if (!use)
			return;
		expand(root, use);
	}
	throw new Error("too many uses");
}

function isShown(shape) {
	for (let at = shape; at instanceof SVGElement; at = at.parentNode) {
		if (getComputedStyle(at).display === "none")
			return false;
	}
	return !shape.closest(TEMPLATES);
}

function keyOf(shape) {
	let key = shape.getAttribute("data-index");
	for (let at = shape.parentNode; at instanceof SVGElement; at = at.parentNode) {
		if (at.hasAttribute("data-use"))
			key = at.getAttribute("data-use") + "." + key;
	}
	return key;
}

// The browser measures curves coarsely where they are small in user units: by chords within half a
// unit. So a copy is measured whose numbers, as the browser reads them, are a thousand times as large.
const LARGER = 1000;

function enlarge(copy, shape) {
	for (const name of ["x", "y", "width", "height", "cx", "cy", "r", "rx", "ry", "x1", "y1", "x2", "y2"]) {
		if (shape[name] instanceof SVGAnimatedLength && shape.hasAttribute(name))
			copy.setAttribute(name, shape[name].baseVal.value * LARGER);
	}
	if (shape.points) {
		const points = [...shape.points].map(({ x, y }) => `${x * LARGER},${y * LARGER}`);
		copy.setAttribute("points", points.join(" "));
	}
}

function lengthOf(shape) {
	if (shape instanceof SVGPathElement)
		return shape.getTotalLength();
	const copy = shape.cloneNode();
	enlarge(copy, shape);
	shape.parentNode.appendChild(copy);
	const length = copy.getTotalLength() / LARGER;
	copy.remove();
	return length;
}

function measure(shape) {
	const box = shape.getBBox();
	const matrix = shape.getScreenCTM();
	const corner = (x, y) => {
		const at = new DOMPoint(x, y).matrixTransform(matrix);
		return [at.x, at.y];
	};
	const right = box.x + box.width, bottom = box.y + box.height;
	return {
		key: keyOf(shape),
		corners: [...corner(box.x, box.y), ...corner(right, box.y), ...corner(right, bottom),
			...corner(box.x, bottom)],
		length: lengthOf(shape),
	};
}

function measureDrawing(text) {
	const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
	if (parsed.querySelector("parsererror"))
		return { error: "the browser can't parse it" };
	const root = document.importNode(parsed.documentElement, true);
	[root, ...root.querySelectorAll("*")].forEach((one, i) => one.setAttribute("data-index", i));
	root.style.cssText += ";position:absolute;left:0;top:0;margin:0;border:0;padding:0";
	const box = root.viewBox.baseVal;
	if (!root.hasAttribute("width") && !root.hasAttribute("height") && box) {
		root.setAttribute("width", box.width);
		root.setAttribute("height", box.height);
	}
	document.body.appendChild(root);
	expandUses(root);
	const shapes = [...root.querySelectorAll("path,rect,circle,ellipse,line,polyline,polygon")]
		.filter(isShown)
		.map(measure);
	root.remove();
	return { shapes };
}

function measureAll(drawings) {
	return drawings.map((text) => {
		try {
			return measureDrawing(text);
		} catch (error) {
			return { error: String(error) };
		}
	});
}

const results = measureAll(drawings);
document.body.textContent = "RESULT " + btoa(JSON.stringify(results)) + " END";
