// The stage: zoom, pan, and the way between findings and marks. The page works without it.
"use strict";
(() => {
	const stage = document.getElementById("stage");
	const picture = stage.querySelector("svg");
	const voice = document.getElementById("voice");
	const view = picture.viewBox.baseVal;
	const unit = Math.max(view.width, view.height) / 100;
	const grain = document.querySelector("#regions").transform.baseVal[0].matrix.a;
	const FLAG_PX = 10, HAIR_PX = 1, STEP = 1.6, MOST_PX_MM = 300;
	let wide = 0; // of the picture in px; 0: as wide as the stage

	const pxPerMm = () => (wide || stage.clientWidth) / view.width;
	const fitPxPerMm = () => stage.clientWidth / view.width;

	// Marks and role lines keep their size on the screen.
	function settle() {
		const scale = pxPerMm();
		picture.style.setProperty("--k", FLAG_PX / unit / scale);
		picture.style.setProperty("--hair", `${HAIR_PX / scale / grain}px`);
		picture.style.setProperty("--thread", `${HAIR_PX / scale}px`);
	}

	function setScale(scale, x, y) {
		const least = fitPxPerMm();
		wide = scale > least * 1.001 ? Math.min(scale, MOST_PX_MM) * view.width : 0;
		if (wide)
			picture.style.setProperty("--wide", `${wide}px`);
		else
			picture.style.removeProperty("--wide");
		settle();
		stage.scrollLeft = (x - view.x) * pxPerMm() - stage.clientWidth / 2;
		stage.scrollTop = (y - view.y) * pxPerMm() - stage.clientHeight / 2;
	}

	function middle() {
		return [
			view.x + (stage.scrollLeft + stage.clientWidth / 2) / pxPerMm(),
			view.y + (stage.scrollTop + stage.clientHeight / 2) / pxPerMm(),
		];
	}

	const marks = [...picture.querySelectorAll(".mark")];
	const items = [...document.querySelectorAll(".finding")];
	const numberOf = (element) => element.id.split("-")[1];
	const goOf = (item) => item.querySelector("a.go") || item;

	function unchoose() {
		for (const element of [...marks, ...items]) {
			element.classList.remove("chosen");
			element.removeAttribute("aria-current");
		}
	}

	function choose(number) {
		const mark = document.getElementById(`mark-${number}`);
		const item = document.getElementById(`finding-${number}`);
		unchoose();
		item.classList.add("chosen");
		goOf(item).setAttribute("aria-current", "true");
		if (!mark)
			return;
		mark.classList.add("chosen");
		mark.parentNode.append(mark);
		const [left, top, right, bottom] = mark.dataset.extent.split(" ").map(Number);
		const size = Math.max(right - left, (bottom - top) * stage.clientWidth / stage.clientHeight);
		const close = size > 0 ? 0.3 * stage.clientWidth / size : 8 * fitPxPerMm();
		const whole = size > 0 ? 0.85 * stage.clientWidth / size : close;
		const wanted = Math.max(close, Math.min(whole, 1.5 * fitPxPerMm()), fitPxPerMm());
		setScale(wanted, (left + right) / 2, (top + bottom) / 2);
		const times = (pxPerMm() * 25.4 / 96).toFixed(1);
		voice.textContent = `Finding ${number} is shown ${times} times its true size.`;
	}

	function showAll() {
		unchoose();
		setScale(0, view.x + view.width / 2, view.y + view.height / 2);
		voice.textContent = "The whole sheet is shown.";
	}

	function zoomBy(factor) {
		setScale(pxPerMm() * factor, ...middle());
		voice.textContent = `${(pxPerMm() * 25.4 / 96).toFixed(1)} times the true size.`;
	}

	const ZOOMS = { in: () => zoomBy(STEP), out: () => zoomBy(1 / STEP), all: showAll };
	for (const button of document.querySelectorAll("button[data-zoom]"))
		button.addEventListener("click", ZOOMS[button.dataset.zoom]);
	document.querySelector(".buttons").hidden = false;

	for (const item of items) {
		goOf(item).addEventListener("click", (event) => {
			event.preventDefault();
			choose(numberOf(item));
		});
	}

	let dragged = false;
	for (const mark of marks) {
		mark.addEventListener("click", (event) => {
			event.preventDefault();
			if (dragged)
				return;
			choose(numberOf(mark));
			goOf(document.getElementById(`finding-${numberOf(mark)}`)).focus();
		});
	}

	function step(from, by) {
		const next = items[items.indexOf(from) + by];
		if (next)
			goOf(next).focus();
	}

	const STEPS = { ArrowDown: 1, ArrowRight: 1, ArrowUp: -1, ArrowLeft: -1 };
	document.addEventListener("keydown", (event) => {
		if (event.altKey || event.ctrlKey || event.metaKey)
			return;
		const item = event.target.closest(".finding");
		if (event.key === "Escape") {
			showAll();
		} else if (item && STEPS[event.key]) {
			event.preventDefault();
			step(item, STEPS[event.key]);
		} else if (stage.contains(event.target) && "+=-0".includes(event.key)) {
			event.preventDefault();
			ZOOMS[{ "-": "out", 0: "all" }[event.key] || "in"]();
		}
	});

	// Dragging with a mouse pans; fingers scroll by themselves.
	let grip = null;
	stage.addEventListener("pointerdown", (event) => {
		dragged = false;
		if (event.pointerType === "mouse" && event.button === 0)
			grip = { x: event.clientX, y: event.clientY, left: stage.scrollLeft, top: stage.scrollTop };
	});
	addEventListener("pointermove", (event) => {
		if (!grip)
			return;
		const x = event.clientX - grip.x, y = event.clientY - grip.y;
		dragged = dragged || Math.hypot(x, y) > 4;
		stage.scrollLeft = grip.left - x;
		stage.scrollTop = grip.top - y;
	});
	addEventListener("pointerup", () => { grip = null; });
	stage.addEventListener("dragstart", (event) => event.preventDefault());
	stage.addEventListener("wheel", (event) => {
		if (!event.ctrlKey)
			return;
		event.preventDefault();
		zoomBy(Math.exp(-event.deltaY / 200));
	}, { passive: false });

	document.documentElement.classList.remove("plain");
	addEventListener("resize", settle);
	settle();
	stage.style.setProperty("--high", `${stage.offsetHeight}px`);
})();
