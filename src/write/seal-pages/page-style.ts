/** Styles of the seal pages: ink on paper, A4, readable in grey. */
export const PAGE_STYLE = `
@page { size: A4; margin: 11mm 12mm; }
* { box-sizing: border-box; }
body { margin: 0 auto; max-width: 186mm; font: 9pt/1.35 'DejaVu Sans', Verdana, sans-serif; color: #1D2733; overflow-wrap: anywhere; }
.shared { position: absolute; }
article { break-after: page; }
article:last-child { break-after: auto; }
h1 { font-size: 18pt; margin: 0 0 2mm; }
h2 { font-size: 16pt; margin: 0; line-height: 1.1; }
h3 { font-size: 9.5pt; margin: 0 0 1.2mm; border-bottom: 0.25mm solid #1D2733; break-after: avoid; }
p { margin: 0 0 0.8mm; }
table { width: 100%; border-collapse: collapse; }
table.sheet > * > tr > td { padding: 0; }
header { display: flex; justify-content: space-between; align-items: flex-start; gap: 6mm; padding-bottom: 2mm; margin-bottom: 2.5mm; border-bottom: 0.6mm solid #1D2733; }
header .path { font-weight: bold; margin-top: 1mm; }
header p { font-size: 8pt; }
.foot { font-size: 7pt; margin: 2mm 0 0; padding-top: 1mm; border-top: 0.2mm solid #55606B; }
section { margin-bottom: 2.6mm; }
.where { display: flex; justify-content: space-between; gap: 5mm; break-inside: avoid; }
.where svg { flex: none; }
dl { display: grid; grid-template-columns: 28mm 1fr; gap: 0.5mm 2mm; margin: 0; align-content: start; font-size: 8.5pt; }
dt { color: #55606B; }
dd { margin: 0; }
.section { margin-bottom: 3mm; break-inside: avoid; }
.section svg { width: 168mm; height: auto; display: block; margin: 0 auto; }
.ask { border-left: 1.4mm solid #1D2733; padding: 1mm 0 1mm 2.5mm; font-size: 8.5pt; }
.also { font-size: 8pt; margin-top: 1mm; }
.note { font-size: 7.5pt; color: #55606B; }
.list th, .list td { text-align: left; vertical-align: top; padding: 0.5mm 1.5mm 0.5mm 0; font-size: 7.6pt; border-bottom: 0.15mm solid #9AA5AC; }
.list th { border-bottom: 0.3mm solid #1D2733; }
.list tr { break-inside: avoid; }
.checks td:nth-child(2) { white-space: nowrap; font-weight: bold; }
ol { margin: 0; padding-left: 6mm; font-size: 8.5pt; }
li { margin-bottom: 0.6mm; break-inside: avoid; }
.box { display: inline-block; width: 3mm; height: 3mm; border: 0.25mm solid #1D2733; margin: 0 1.8mm -0.3mm 0; }
.stop { border: 0.8mm solid #1D2733; padding: 2mm 3mm; }
.stop h3 { font-size: 12pt; border: 0; }
.record { break-inside: avoid; }
.boxes { display: grid; grid-template-columns: repeat(4, 1fr); gap: 1.2mm; }
.boxes.signed { grid-template-columns: repeat(3, 1fr); margin-top: 1.2mm; }
.boxes div { border: 0.25mm solid #1D2733; height: 10mm; padding: 0.6mm 1.2mm; }
.boxes.signed div { height: 14mm; }
.boxes span { font-size: 6.8pt; color: #55606B; }
.cautions { break-inside: avoid; font-size: 7.2pt; line-height: 1.25; }
.contents td:first-child { font-weight: bold; white-space: nowrap; }
@media screen { body { padding: 6mm 0; } article { margin-bottom: 14mm; } }
`;

/** Styles of the label sheets: three across, eight down, to the edge of the paper. */
export const LABEL_STYLE = `
@page { size: A4; margin: 0; }
* { box-sizing: border-box; }
body { margin: 0; font: 7.6pt/1.25 'DejaVu Sans', Verdana, sans-serif; color: #1D2733; }
.labels { width: 210mm; height: 296.9mm; padding-top: 0.4mm; display: grid; grid-template-columns: repeat(3, 70mm); grid-auto-rows: 37mm; break-after: page; }
.labels:last-child { break-after: auto; }
.label { display: flex; gap: 1mm; align-items: center; padding: 2.5mm 3mm; overflow: hidden; }
.label > div { min-width: 0; max-height: 32mm; overflow: hidden; }
.label b { font-size: 12pt; overflow-wrap: anywhere; line-height: 1.05; display: block; }
.label p { margin: 0.5mm 0 0; overflow: hidden; display: -webkit-box; -webkit-box-orient: vertical; -webkit-line-clamp: 2; }
.label .keep { font-weight: bold; }
`;
