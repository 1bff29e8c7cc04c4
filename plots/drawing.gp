# A drawing sheet, one of several pages of a PDF: everything lies on paper in millimetres, the scale is in the numbers.
# In: format (svg, pdf), paper_w, paper_h (mm), a block of lines for each pen, $masks (left, right,
#     bottom, top of what is kept white), $texts (3 times letter plus side, x, y, angle, text)
set encoding utf8
inset = 0.0
if (format eq 'svg') {
    # Ten units to a millimetre; the size in mm is written into the head afterwards.
    set terminal svg noenhanced rounded size 10 * paper_w, 10 * paper_h font 'sans-serif,34' \
        background rgb 'white'
    pen = 10.0                         # of a millimetre of line
    em = 10.0 / 0.729                  # of a millimetre of capital: 0.729 of the letter's size
    page_w = paper_w
    page_h = paper_h
    dash = 1.0
} else {
    if (!exists('opened')) {            # later sheets are further pages
        set terminal pdfcairo noenhanced rounded size paper_w / 10.0 cm, paper_h / 10.0 cm \
            font 'sans,10' fontscale 1 background rgb 'white'
        opened = 1
    }
    pt = 25.4 / 72.0
    pen = 2.0 / pt                     # the terminal's line of 1 is half a point
    em = 0.75 / pt / 0.729             # its points are of 96 to the inch
    page_w = floor(paper_w / pt) * pt  # it cuts the page to whole points
    page_h = floor(paper_h / pt) * pt
    inset = 0.5 * pt                   # and draws from half a point within
    dash = 1.0
}
set lmargin at screen 0
set rmargin at screen 1
set bmargin at screen 0
set tmargin at screen 1
set border 0
unset tics
unset key
set xrange [inset:page_w - inset]
set yrange [inset:page_h - inset]
set style fill solid 1.0 noborder
ink = '#000000'
letter(k) = sprintf(',%.3f', em * (k < 3 ? 2.5 : k < 6 ? 3.5 : 5.0))

plot $pen_HATCH using 1:2 with lines lw 0.13 * pen lc rgb ink, \
    $pen_THIN using 1:2 with lines lw 0.18 * pen lc rgb ink, \
    $pen_CENTRE using 1:2 with lines lw 0.18 * pen lc rgb ink dt (66, 11, 4, 11), \
    $pen_HIDDEN using 1:2 with lines lw 0.25 * pen lc rgb ink dt (16, 8), \
    $pen_WATER using 1:2 with lines lw 0.25 * pen lc rgb ink dt (40, 10), \
    $pen_EDGE using 1:2 with lines lw 0.35 * pen lc rgb ink, \
    $pen_CUT using 1:2 with lines lw 0.5 * pen lc rgb ink, \
    $masks using 1:3:1:2:3:4 with boxxyerror fc rgb 'white', \
    for [k = 0:6:3] $texts using ($1 == k ? $2 : NaN):3:5:4 with labels left rotate variable \
        font letter(k) tc rgb ink, \
    for [k = 1:7:3] $texts using ($1 == k ? $2 : NaN):3:5:4 with labels center rotate variable \
        font letter(k) tc rgb ink, \
    for [k = 2:8:3] $texts using ($1 == k ? $2 : NaN):3:5:4 with labels right rotate variable \
        font letter(k) tc rgb ink, \
    $pen_TICK using 1:2 with lines lw 0.35 * pen lc rgb ink
