// Drawings of the browser test. In `places` every finding's place follows from how it is drawn:
// - an opening of radius 0.2 mm round 30, 20;
// - two circles of radius 5 round 60, 30 and 70.4, 30: the wall between them is 0.4 mm wide, from
//   65, 30 to 65.4, 30, where the circle stands that comes later in the file;
// - an open line whose ends lie 0.5 mm apart, from 100, 20 to 100.5, 20; its last end is said.
const places = `<svg xmlns="http://www.w3.org/2000/svg" width="140mm" height="60mm" viewBox="0 0 140 60">
<circle cx="30" cy="20" r=".2"/>
<circle cx="60" cy="30" r="5"/>
<circle cx="70.4" cy="30" r="5"/>
<path fill="none" stroke="black" d="M100 20V40H115V20H100.5"/>
</svg>`;

const STRIKE = "globalThis.struck = 1; alert(1)";

// All that a drawing can try. `struck` and dialogs would tell.
const hostile = `<!DOCTYPE svg [<!ENTITY e "&#60;script>${STRIKE}&#60;/script>">]>
<svg xmlns="http://www.w3.org/2000/svg" xmlns:xlink="http://www.w3.org/1999/xlink" width="60mm" height="40mm"
	viewBox="0 0 60 40" onload="${STRIKE}">
<script>${STRIKE}</script>
<script href="http://example.invalid/x.js"/>
<style>@import url(http://example.invalid/x.css); rect { fill: url(http://example.invalid/p#x) }</style>
<title>&e;</title>
<foreignObject width="60" height="40"><body xmlns="http://www.w3.org/1999/xhtml">
<iframe src="http://example.invalid/"/><img src="x" onerror="${STRIKE}"/></body></foreignObject>
<image xlink:href="http://example.invalid/i.png" width="9" height="9"/>
<use href="http://example.invalid/u.svg#a"/>
<a xlink:href="javascript:${STRIKE}"><circle id="&lt;img src=x onerror='${STRIKE}'&gt;" cx="15" cy="15" r=".1"
	onclick="${STRIKE}" class="&quot;&gt;&lt;script&gt;${STRIKE}&lt;/script&gt;"/></a>
<circle id="' onmouseover='${STRIKE}" cx="30" cy="15" r=".1"/>
<circle id="&lt;/script&gt;&lt;script&gt;${STRIKE}//]]&gt;" cx="45" cy="15" r=".1"/>
<animate attributeName="href" values="javascript:${STRIKE}"/>
<set attributeName="onmouseover" to="${STRIKE}"/>
</svg>`;

export const DRAWINGS = { places, hostile };
