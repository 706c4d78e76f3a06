"""How a sheet looks: on paper in black and white too, on a screen light and dark."""

from __future__ import annotations

from postcheck.renderers.bore_svg import STYLE as BORES

# The pictures of bores bring their own dark colours, which are for screens alone.
_BORES = BORES.replace("@media (prefers-color-scheme:dark)", "@media screen and (prefers-color-scheme:dark)")

STYLE = (
    _BORES
    + """
@page{margin:12mm}
:root{color-scheme:light dark;--ink:#16191d;--soft:#4a525b;--paper:#ffffff;--ground:#eceae4;--rule:#b9bfc6;--warn:#9a1b12;--tint:#f3f1ec;--mark:#0b4f6c}
*{box-sizing:border-box}
html{font:8.8pt/4.3mm system-ui,-apple-system,"Segoe UI","DejaVu Sans",Arial,sans-serif;color:var(--ink);background:var(--ground);-webkit-print-color-adjust:exact;print-color-adjust:exact}
body{margin:0}
main{display:block}
.leaf{background:var(--paper);max-width:202mm;margin:5mm auto;padding:8mm}
.leaf>header{display:flex;gap:6mm;justify-content:space-between;align-items:baseline;border-bottom:.5mm solid var(--ink);margin:0 0 2.5mm;padding:0 0 1mm}
.leaf>header p{margin:0}
.leaf>footer{margin:3mm 0 0;padding:1mm 0 0;border-top:.2mm solid var(--rule);color:var(--soft);display:flex;gap:6mm;justify-content:space-between}
.leaf>footer p{margin:0}
h1,.h1{font-size:12pt;line-height:5.4mm;margin:0;font-weight:700;overflow-wrap:anywhere}
h2,.h2{font-size:11pt;line-height:5mm;margin:0 0 2mm;font-weight:700}
.first{color:var(--warn);font-weight:700}
h2:not(:nth-child(2)):not(.first+h2){margin-top:4mm}
h3,.h3{font-size:10pt;line-height:4.5mm;margin:2.5mm 0 1.5mm;font-weight:700;overflow-wrap:anywhere}
p{margin:0 0 1.5mm;overflow-wrap:anywhere}
.lead,.small{color:var(--soft)}
.stop{color:var(--warn);font-weight:700}
.point{padding-left:4mm;position:relative}
.point::before{content:"";position:absolute;left:0;top:1.5mm;width:1.6mm;height:1.6mm;background:var(--mark)}
table{border-collapse:collapse;width:100%;table-layout:fixed;margin:0 0 2mm}
th,td{text-align:left;vertical-align:top;padding:1mm 1.4mm;border-bottom:.2mm solid var(--rule);font-weight:400}
thead th{border-bottom:.4mm solid var(--ink);font-weight:700}
th p,td p{margin:0}
tr{break-inside:avoid}
.name{font-weight:700}
.danger{color:var(--warn);font-weight:700}
.swatch{width:13mm;height:3.8mm;vertical-align:-.8mm;margin-right:1mm}
.box{display:inline-block;width:4mm;height:4mm;border:.4mm solid var(--ink);vertical-align:-.8mm;margin-right:2mm}
.ticked{background:linear-gradient(135deg,transparent 45%,var(--ink) 45%,var(--ink) 55%,transparent 55%),linear-gradient(45deg,transparent 45%,var(--ink) 45%,var(--ink) 55%,transparent 55%)}
.hub,.chart{display:block;width:100%;max-width:186mm;margin:0 0 2mm}.hub{margin-bottom:1.2mm}
.bores{display:block;width:100%;max-width:186mm;margin:0 auto 3mm}
.w-line{fill:none;stroke:var(--ink);stroke-width:.4}
.w-rim{fill:none;stroke:var(--ink);stroke-width:.35}
.w-unsaid{fill:var(--paper);stroke:var(--ink);stroke-width:.3;stroke-dasharray:.9 .7}
.w-plain{fill:var(--paper);stroke:var(--ink);stroke-width:.35}
svg .w-word{fill:var(--ink);stroke:var(--paper);stroke-width:1.2;stroke-linejoin:round;paint-order:stroke}
svg .h-line,svg .h-name,svg .h-ohm,svg .c-name,svg .c-tick{fill:var(--ink)}
svg .h-line{font-weight:700}
.h-bar{stroke:var(--ink);stroke-width:1.8;stroke-linecap:round}
.h-pin{stroke:var(--ink);stroke-width:.6;fill:none}
.h-dot{fill:var(--ink)}
.h-box{fill:var(--paper);stroke:var(--ink);stroke-width:.4}
.c-grid{stroke:var(--rule);stroke-width:.2}
.c-line{fill:none;stroke:var(--mark);stroke-width:.8;stroke-linejoin:round}
.c-dot{fill:var(--mark)}
.c-drop{stroke:var(--soft);stroke-width:.2;stroke-dasharray:.8 .8}
.c-frame{fill:none;stroke:var(--ink);stroke-width:.4}
.c-most{fill:none;stroke:var(--mark);stroke-width:.6;stroke-dasharray:1 .6}
.c-usual{fill:var(--mark)}
.c-limit{stroke:var(--warn);stroke-width:.8}
@media screen and (prefers-color-scheme:dark){:root{--ink:#e9ebee;--soft:#b3bac2;--paper:#16191d;--ground:#0b0d0f;--rule:#444b53;--warn:#ff9a8f;--tint:#22262b;--mark:#7cc4e4}}
@media screen and (max-width:190mm){.leaf{overflow-x:auto}table,.hub,.chart,.bores{min-width:150mm}}
@media print{html{background:none}.leaf{margin:0;padding:0;max-width:186mm;break-after:page}.leaf:last-of-type{break-after:auto}}
"""
)
