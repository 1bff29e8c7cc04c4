# The options: cover (downward) against board thickness, a panel for each extension beyond the tank.
# A filled disc meets every limit, a cross does not; the recommended option is ringed. Below each mark the
# coldest water and the letter of the limit with the least margin.
# In: $panel1 ... (thickness, cover, ok, pick, text), n_panels, $reaches, $thicknesses, $covers,
#     $letters with n_letters (what each letter stands for), thickness_unit
canvas_x = 940
columns = n_panels < 2 || format eq 'text' ? 1 : 2
rows = int((n_panels + columns - 1) / columns)
in_line = 2
letter_lines = int((n_letters + in_line - 1) / in_line)
room_top = bare ? 48.0 : 92.0
room_foot = 122.0 + 22.0 * letter_lines
canvas_y = room_top + room_foot + 400.0 * rows - 92.0
load folder.'/common.gp'

set border 3
set key off
unset xtics
unset ytics
set xtics () textcolor rgb ink nomirror out
set ytics () textcolor rgb ink nomirror out
do for [i = 1:|$thicknesses|] { set xtics add (word($thicknesses[i], 2) word($thicknesses[i], 1) + 0) }
do for [i = 1:|$covers|] { set ytics add (word($covers[i], 2) word($covers[i], 1) + 0) }
stats $thicknesses using 1 nooutput name 'wide'
stats $covers using 1 nooutput name 'deep'
room_x = wide_max > wide_min ? 0.12 * (wide_max - wide_min) : 0.5 * wide_max + 0.1
room_y = deep_max > deep_min ? 0.18 * (deep_max - deep_min) : 0.5 * deep_max + 0.1
set xrange [wide_min - room_x:wide_max + room_x]
set yrange [deep_max + room_y:deep_min - room_y]
across = 'board thickness, '.thickness_unit
down = 'cover over the tank, '.length_unit
if (is_text) { set xlabel across.' (across); '.down.' (down)' }
panel(i) = sprintf('$panel%d', i)

if (is_text) {
    # A panel after the other, each as wide as the terminal; what the letters stand for comes last.
    set terminal dumb noenhanced mono size 79, 26 * rows + 4 + n_letters aspect 2
    foot = (3.0 + n_letters) / (26.0 * rows + 4 + n_letters)
    set multiplot layout rows, 1 title heading_of('The options', 70) noenhanced \
        margins screen 0.12, 0.95, (foot + 4.0 / (26.0 * rows)), 0.93 spacing screen 0, (7.0 / (26.0 * rows))
    set label 1 'o every limit met   x some limit not met   (o) recommended' at screen 0.05, foot left
    set label 2 'number: coldest water, '.degree.';  letter: least margin' \
        at screen 0.05, foot * (n_letters + 1) / (n_letters + 2) left
    do for [i = 1:n_letters] {
        set label 10 + i $letters[i][2:strlen($letters[i]) - 2] noenhanced left \
            at screen 0.05, foot * (n_letters + 1 - i) / (n_letters + 2)
    }
} else {
    set multiplot layout rows, columns title heading_of('The options', 90) noenhanced \
        margins screen 0.09, 0.98, (room_foot / canvas_y), (1.0 - room_top / canvas_y) \
        spacing screen 0.08, (96.0 / canvas_y)
    foot(y) = y / canvas_y
    legend_y = 22.0 + 22.0 * letter_lines
    set object 1 circle at screen 0.09, screen foot(legend_y) size screen 0.0065 front fc rgb blue fs solid
    set label 1 'every limit met' at screen 0.105, foot(legend_y) left
    set label 2 'x' at screen 0.258, foot(legend_y + 1) center textcolor rgb orange font ',14'
    set label 3 'some limit not met' at screen 0.27, foot(legend_y) left
    set object 3 circle at screen 0.46, screen foot(legend_y) size screen 0.011 front fc rgb ink \
        fs empty border lw 2
    set label 4 'recommended' at screen 0.478, foot(legend_y) left
    set label 5 'number: coldest water, '.degree.';  letter: least margin' \
        at screen 0.6, foot(legend_y) left
    do for [i = 1:n_letters] {
        set label 10 + i $letters[i][2:strlen($letters[i]) - 2] noenhanced left at \
            screen 0.09 + 0.9 / in_line * ((i - 1) % in_line), \
            foot(18.0 + 22.0 * (letter_lines - 1 - (i - 1) / in_line))
    }
}
do for [i = 1:n_panels] {
    head = $reaches[i]
    set title head[2:strlen(head) - 2] noenhanced
    # Axes are named once: below the lowest panel of a column, beside the first panel of a row.
    if (!is_text) {
        set xlabel (i + columns > n_panels ? across : '')
        set ylabel ((i - 1) % columns == 0 ? down : '')
    }
    if (is_text) {
        eval 'plot '.panel(i).' using 1:2:($3 == 0 ? "x" : $4 == 1 ? "(o)" : "o") with labels, '. \
             panel(i).' using 1:2:5 with labels offset 0, -1'
    } else {
        eval 'plot '.panel(i).' using ($3 == 1 ? $1 : NaN):2 with points pt 7 ps 1.9 lc rgb blue, '. \
             panel(i).' using ($3 == 0 ? $1 : NaN):2 with points pt 2 ps 1.6 lw 2 lc rgb orange, '. \
             panel(i).' using ($4 == 1 ? $1 : NaN):2 with points pt 6 ps 3.4 lw 2.4 lc rgb ink, '. \
             panel(i).' using 1:2:5 with labels offset 0, -1.3 font ",10" textcolor rgb ink'
    }
    unset label
    unset object
}
unset multiplot
