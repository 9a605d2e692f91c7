"""The style of HTML documents: quiet on a screen, light or dark, and black on white on paper of either size."""

from collections.abc import Mapping

LIGHT = {
    "paper": "#ffffff",
    "card": "#f5f7f8",
    "ink": "#1c2126",
    "quiet": "#56616b",
    "rule": "#d5dbe0",
    "line": "#1b4965",
    "second": "#7d4400",
    "danger": "#a80018",
    "warning": "#9a3a00",
    "caution": "#7a4500",
    "notice": "#1b4965",
}
"""What each colour is for, on white. A test holds every pair of `LEGIBLE` to the contrast of WCAG 2.2, 1.4.3."""
DARK = {
    "paper": "#14181c",
    "card": "#1d2328",
    "ink": "#e6eaed",
    "quiet": "#a3afb9",
    "rule": "#39434c",
    "line": "#8fc6ea",
    "second": "#f0b272",
    "danger": "#ff8d94",
    "warning": "#ffa26b",
    "caution": "#f0b95c",
    "notice": "#8fc6ea",
}
"""The same on a dark screen."""
TEXTS, GROUNDS = ("ink", "quiet", "line", "second", "danger", "warning", "caution", "notice"), ("paper", "card")
"""The colours that words have, and those that words stand on: each of the first is read on each of the second."""


def _colours(palette: Mapping[str, str]) -> str:
    return "".join(f"--{name}:{colour};" for name, colour in palette.items())


STYLE = (
    f"""
:root{{color-scheme:light dark;{_colours(LIGHT)}}}
@media screen and (prefers-color-scheme:dark){{:root{{{_colours(DARK)}}}}}
"""
    + """
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:16px/1.5 system-ui,-apple-system,"Segoe UI",sans-serif;
 font-variant-numeric:tabular-nums;-webkit-text-size-adjust:100%}
body{margin:0}
main{max-width:58rem;margin:0 auto;padding:2rem 1.25rem 3rem}
header{border-bottom:2px solid var(--ink);margin-bottom:1.25rem;padding-bottom:.5rem}
header p{margin:0;color:var(--quiet)}
h1,h2,h3,h4,h5,h6{line-height:1.25;margin:0;overflow-wrap:anywhere}
h1{font-size:1.75rem;font-weight:650;letter-spacing:-.01em}
h2{font-size:1.25rem;font-weight:650;margin:2rem 0 .5rem;padding-top:.75rem;border-top:1px solid var(--rule)}
h3{font-size:1.05rem;font-weight:650;margin:1.25rem 0 .35rem}
h4,h5,h6{font-size:1rem;font-weight:600;margin:1rem 0 .25rem}
p{margin:.4rem 0;max-width:44rem;overflow-wrap:anywhere}
p,li,dd,td,th,caption,h1,h2,h3,h4{unicode-bidi:isolate}
.file{color:var(--quiet);font-size:.9rem}
dl{display:grid;grid-template-columns:max-content 1fr;gap:.2rem 1.25rem;margin:.6rem 0}
dt{color:var(--quiet)}
dd{margin:0;overflow-wrap:anywhere}
.note{color:var(--quiet);margin-left:.75em}
.wide{overflow-x:auto;margin:.75rem 0 1rem}
table{border-collapse:collapse}
caption{text-align:left;font-weight:600;padding:0 0 .3rem}
th,td{text-align:left;vertical-align:baseline;padding:.22rem 1.25rem .22rem 0;border-bottom:1px solid var(--rule)}
thead th,thead td{vertical-align:bottom;color:var(--quiet);font-weight:500;border-bottom:1px solid var(--quiet)}
tbody th{font-weight:500}
tr>:last-child{padding-right:0}
.number{text-align:right;white-space:nowrap}
.number span{display:inline-block;text-align:right}
td.danger,td.warning,td.caution,td.notice{font-weight:650}
.danger{color:var(--danger)}.warning{color:var(--warning)}.caution{color:var(--caution)}.notice{color:var(--notice)}
.finding{background:var(--card);color:var(--ink);border-left:4px solid;border-radius:0 6px 6px 0;margin:.7rem 0;
 padding:.6rem .9rem}
.finding>:not(.signal){color:var(--ink)}
.finding>:first-child{margin-top:0}
.finding.danger{border-color:var(--danger)}.finding.warning{border-color:var(--warning)}
.finding.caution{border-color:var(--caution)}.finding.notice{border-color:var(--notice)}
.signal{font-size:.8em;font-weight:700;letter-spacing:.06em;margin-right:.5em}
ul,ol{margin:.5rem 0;padding-left:1.5rem}
li{margin:.35rem 0}
li>p{margin:.15rem 0}
ul.boxes,ul.marked{list-style:none;padding-left:0}
ul.boxes label{display:grid;grid-template-columns:auto 1.6em 1fr;gap:0 .5em;align-items:baseline}
ul.boxes label b{text-align:right;font-weight:600;color:var(--quiet)}
ul.boxes input{width:1.05em;height:1.05em;margin:0;align-self:start;position:relative;top:.2em}
figure{margin:1rem 0}
figure svg{max-width:100%;height:auto;display:block}
figure svg>rect:first-of-type{fill:none}
pre{font:14px/1.2 ui-monospace,"DejaVu Sans Mono",monospace;overflow-x:auto}
.unseen{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
@media screen and (prefers-color-scheme:dark){figure.drawn{filter:invert(.92) hue-rotate(180deg)}}
@media (max-width:34rem){main{padding:1rem}dl{grid-template-columns:1fr;gap:0}dd{margin-bottom:.4rem}}
@page{margin:13mm 14mm 14mm}
@page full{margin:9mm 12mm}
@media print{
html{font-size:9.5pt;line-height:1.35;print-color-adjust:exact;-webkit-print-color-adjust:exact}
main{max-width:none;padding:0}
header{margin-bottom:.7rem}
h1{font-size:1.5rem}
h2{margin-top:1.1rem;padding-top:.4rem}
h1,h2,h3,h4,caption{break-after:avoid}
p{max-width:none;orphans:3;widows:3}
.wide{overflow:visible;margin:.4rem 0 .6rem}
.finding{background:none;border-radius:0;margin:.45rem 0;padding:.15rem 0 .15rem .7rem}
li{margin:.12rem 0}
.finding,li,figure,tr,dl>*{break-inside:avoid}
thead{display:table-header-group}
th,td{padding-top:.1rem;padding-bottom:.1rem}
figure{margin:.4rem 0}
figure svg{max-height:205mm;max-width:80%}
.sheet{font-size:8pt;line-height:1.25}
.sheet h1{font-size:1.35rem}
.sheet header{margin-bottom:.3rem;padding-bottom:.15rem}
.sheet h2{font-size:1.1rem;margin:.45rem 0 .15rem;padding-top:.2rem}
.sheet h3{margin-top:.5rem}
.sheet p,.sheet li,.sheet ul,.sheet ol,.sheet .wide,.sheet dl,.sheet .finding{margin-top:.15rem;margin-bottom:.15rem}
.sheet th,.sheet td{padding-top:.03rem;padding-bottom:.03rem}
.sheet .finding{padding-top:0;padding-bottom:0}
.sheet figure svg{max-height:70mm}
.sheet:has(section:nth-of-type(6)){page:full;font-size:7.5pt;line-height:1.2}
.sheet:has(section:nth-of-type(6)) h2{margin:.35rem 0 .1rem;padding-top:.12rem}
.sheet:has(section:nth-of-type(6)) ul:not([class]){columns:2}
}
"""
)
