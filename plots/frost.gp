# Frost depth through the winter, depth downward.
# In: $with (day, undisturbed ground, over the tank, thawed from the top), $without (day, over the
#     tank), has_without, has_tank, deepest, crown, board_top, board_bottom; see also months.gp.
canvas_x = 940 * small
canvas_y = 540 * (1 + small) / 2
load folder.'/common.gp'
load folder.'/months.gp'

bottom = deepest > 0 ? deepest : 0.5
if (given(crown) && has_tank && crown > bottom) { bottom = crown }
set yrange [bottom * 1.1:-0.04 * bottom]
eval upright('depth below grade, '.length_unit)
set title heading_of('Frost depth through the winter', 90) noenhanced
set key bmargin left horizontal Left reverse maxcols 2 samplen 4 width 2
set border 3
set rmargin has_tank ? 8 : 3
if (has_tank && given(crown)) {
    set arrow 1 from first_day, crown to last_day, crown nohead lc rgb soft lw 1.5 back
    # Names beside the picture, the lower one pushed down where they would meet.
    beside = given(board_top) ? (board_top + board_bottom) / 2 + 0.07 * bottom : crown
    set label 1 (is_text ? '   crown' : 'crown') at last_day, (crown > beside ? crown : beside) left offset char 0.7, 0 \
        textcolor rgb ink
}
if (given(board_top)) {
    set object 1 rectangle from first_day, board_top to last_day, board_bottom behind \
        fc rgb tone_near fs solid noborder
    set label 2 (is_text ? '   board' : 'board') at last_day, (board_top + board_bottom) / 2 left offset char 0.7, 0 \
        textcolor rgb ink
}
over = given(board_top) ? 'over the tank, with board' : 'over the tank'
beside = has_tank ? 'undisturbed ground' : 'frost'
frozen(v) = v > 0 ? v : NaN     # no line where there is no frost
plot $with using 1:(frozen($2)) with lines lc rgb ink lw 2.6 dt 1 title beside, \
     $with using 1:($4 > 0 && $4 <= $2 ? $4 : NaN) with lines lc rgb dim lw 2 dt (4, 4) title 'thawed from the top'.(has_tank ? ', undisturbed ground' : ''), \
     $with using 1:(has_tank ? frozen($3) : NaN) with linespoints lc rgb blue lw 2.2 dt 1 pt 7 ps 0.7 pi 14 \
         title (has_tank ? over : ''), \
     $without using 1:(frozen($2)) with lines lc rgb orange lw 2.2 dt (10, 5) \
         title (has_without ? 'over the tank, without board' : '')
