/** Black on white, calm, and the same on a black-and-white printer; A4 and US Letter alike. */

/** `running` stands at the foot of every printed sheet, so that loose ones find back to theirs. */
export function styleFor(running: string): string {
  return `${style}@page{@bottom-left{content:"${inString(running)}";font:8.5pt system-ui,sans-serif}}\n`;
}

/** For a CSS string: whatever is no letter, digit or space is written by its number, so that nothing ends the string. */
function inString(text: string): string {
  return text.replaceAll(/[^\p{L}\p{N} ]/gu, (sign) => `\\${sign.codePointAt(0)?.toString(16)} `);
}

const style = `
*{box-sizing:border-box}
html{font:15px/1.4 system-ui,"Helvetica Neue",Arial,"Liberation Sans","DejaVu Sans",sans-serif;color:#000;background:#fff}
body{max-width:60rem;margin:0 auto;padding:1.25rem;overflow-wrap:break-word}
bdi,.id,dd{overflow-wrap:anywhere}
h1{font-size:1.6rem;line-height:1.2;margin:0 0 .3rem}
h2{font-size:1.15rem;margin:2rem 0 .6rem;padding-bottom:.2rem;border-bottom:2px solid #000;break-after:avoid}
h3{font-size:1rem;margin:1.2rem 0 .4rem;break-after:avoid}
p{margin:.4rem 0;max-width:46rem}
ul,ol{margin:.3rem 0;padding-left:1.3rem}
a{color:inherit}
.lead{font-size:1.1rem;margin:0 0 1rem}
.small{font-size:.87rem;color:#333}
.id{font-family:ui-monospace,"DejaVu Sans Mono","Liberation Mono",monospace;font-size:.85em;overflow-wrap:anywhere}
.cautions{border:4px solid #000;margin:1rem 0 1.5rem;break-inside:avoid}
.cautions h2{margin:0;padding:.35rem .9rem;background:#000;color:#fff;border:0;text-transform:uppercase;letter-spacing:.06em;print-color-adjust:exact;-webkit-print-color-adjust:exact}
.cautions ul{margin:.6rem .9rem;padding-left:1.2rem;columns:20rem;column-gap:2rem}
.cautions li{margin:0 0 .35rem;font-weight:600;break-inside:avoid}
.care{border-left:4px solid #000;padding:.1rem 0 .1rem .8rem;font-weight:600}
dl{display:grid;grid-template-columns:minmax(7rem,max-content) 1fr;gap:.15rem 1.2rem;margin:.6rem 0}
dl dl{margin:0}
dt{color:#333}
dd{margin:0}
.outcome{border:3px solid #000;padding:.6rem .9rem;margin:1rem 0;break-inside:avoid}
.outcome strong{font-size:1.25rem}
table{width:100%;border-collapse:collapse;margin:.4rem 0 .8rem;table-layout:fixed}
caption{text-align:left;font-weight:600;padding:.2rem 0}
thead{display:table-header-group}
th{text-align:left;font-size:.82rem;font-weight:600;color:#333;border-bottom:1.5px solid #000;vertical-align:bottom}
th,td{padding:.35rem .6rem .35rem 0}
td{border-bottom:1px solid #999;vertical-align:top;hyphens:auto}
tr{break-inside:avoid}
.tick{width:1.9rem}.nr{width:2.4rem;text-align:right;padding-right:.8rem}
.w9{width:9%}.w50{width:50%}.w12{width:12%}.w15{width:15%}.w20{width:20%}.w25{width:25%}.w30{width:30%}
.box{display:inline-block;width:1.05rem;height:1.05rem;border:1.5px solid #000;vertical-align:-.15rem}
.fill{width:6.4rem}.fill-s{width:4.8rem}
.field{display:block;min-height:1.45rem;border:1px solid #000;margin-bottom:.2rem;max-width:16rem}
.inline{display:inline-block;width:9rem;vertical-align:middle}
.keep{break-inside:avoid}
.none{color:#666}
.other{font-weight:400;font-size:.92em}
.changes{list-style:none;padding:0}.changes li{padding:.3rem 0;border-bottom:1px solid #999;break-inside:avoid}
.changes dl{margin:.1rem 0;grid-template-columns:5.2rem 1fr}
.picture{display:grid;grid-template-columns:minmax(0,27rem) minmax(0,1fr);gap:.5rem 2rem;align-items:start}
.picture figure{margin:0;break-inside:avoid}
.picture svg{width:100%;height:auto;display:block}
svg text{font-size:13px;fill:#000}
svg .faint{fill:#555}
svg .bold{font-weight:700}
svg .minor{font-size:11.5px}
figcaption{font-size:.82rem;color:#333;margin-top:.4rem}
.key{display:flex;flex-wrap:wrap;gap:.2rem 1.2rem;list-style:none;padding:0;margin:.2rem 0}
.key li{display:flex;align-items:center;gap:.4rem}
.key svg{width:22px;flex:none}
.scale{display:block;width:100%;max-width:15rem;height:auto;margin:.1rem 0}
.head{display:grid;grid-template-columns:minmax(0,1fr) 13.5rem;gap:1rem 1.5rem;align-items:start}
.head dl{margin-top:0}
.head figure{margin:0}
.code{display:block;width:13.5rem;height:auto}
.certificate h2{font-size:1rem;margin:1.2rem 0 .3rem}
.certificate .cautions{border-width:2px;margin:.6rem 0}
.certificate .cautions h2{margin:0}
.certificate .cautions ul{font-size:.87rem}
.certificate .cautions li{font-weight:400;margin-bottom:.2rem}
.certificate td{padding-top:.2rem;padding-bottom:.2rem}
.certificate .small,.certificate th,.certificate figcaption{font-size:.87em}
.certificate th{hyphens:auto}
.pair{display:grid;grid-template-columns:minmax(0,5fr) minmax(0,6fr);gap:0 2rem;align-items:start}
.findings{columns:24rem;column-gap:2rem}.findings li{break-inside:avoid}
.hold{font-weight:700}
.cleared{color:#555}
pre{white-space:pre-wrap;overflow-wrap:anywhere;font:.82rem/1.35 ui-monospace,"DejaVu Sans Mono","Liberation Mono",monospace;background:#f4f4f4;border:1px solid #ccc;padding:.6rem;margin:.4rem 0}
details{margin:.3rem 0}summary{cursor:pointer}
nav ul{columns:24rem;list-style:none;padding:0}nav li{break-inside:avoid}
.shape{border-left:2px solid #ccc;padding-left:.8rem;grid-template-columns:minmax(7rem,14rem) 1fr}
article{margin:1.4rem 0}article h3{font-size:1.05rem}
code{font-family:ui-monospace,"DejaVu Sans Mono","Liberation Mono",monospace;font-size:.88em;overflow-wrap:anywhere}
.method{display:inline-block;min-width:3.6rem;font-weight:700}
.note{white-space:pre-wrap}
@media screen and (max-width:640px){
body{padding:.8rem}
dl,.shape{grid-template-columns:minmax(0,1fr);gap:0}dd{margin-bottom:.4rem}.changes dl{grid-template-columns:4rem 1fr}
.picture,.head,.pair{grid-template-columns:minmax(0,1fr)}
.wide thead{display:none}
.wide,.wide tbody,.wide tr,.wide td{display:block;width:auto}
.wide tr{border-bottom:1px solid #999;padding:.4rem 0}
.wide td{border:0;padding:.1rem 0;text-align:left}
.wide td[data-label]::before{content:attr(data-label) ": ";color:#333;font-size:.82rem}
.wide td.blank{display:none}
.certificate .wide td[data-label]>div:first-of-type{display:inline}
.wide .field{display:inline-block;min-width:9rem;vertical-align:middle}
.wide .tick,.wide .nr,.wide .said{display:inline;margin-right:.5rem}
}
@page{margin:12mm 14mm 16mm;@bottom-right{content:counter(page) " / " counter(pages);font:8.5pt system-ui,sans-serif}}
@media print{
html{font-size:10pt}
body{max-width:none;padding:0;margin:0}
h2{margin-top:1rem}
td{padding-top:.22rem;padding-bottom:.22rem}
.cautions ul{columns:2;font-size:.95em}
.cautions{margin:.6rem 0 .8rem}
.picture{grid-template-columns:8.6cm 1fr;gap:.5rem 1.2rem}
.screen{display:none}
.certificate{font-size:8pt;line-height:1.2}
.certificate h1{font-size:13pt}
.certificate h2{font-size:9pt;margin:.5rem 0 .15rem;border-bottom-width:1px}
.certificate td,.certificate th{padding-top:.08rem;padding-bottom:.08rem}
.certificate table{margin:0 0 .2rem}
.certificate p{margin:.2rem 0}
.certificate ul{margin:.1rem 0}
.certificate dl{margin:.2rem 0;gap:0 1rem}
.certificate .cautions ul{font-size:7pt;margin:.2rem .6rem}
.certificate .lead{font-size:9pt;margin:0 0 .3rem}
.certificate .outcome{padding:.2rem .5rem;margin:.3rem 0;border-width:2px}
.head{grid-template-columns:minmax(0,1fr) 38mm}
.code{width:38mm}
.certificate figcaption{font-size:6.5pt;margin:0}
.certificate .findings{columns:2;font-size:6.5pt}
a{text-decoration:none}
}
`;
