# Frost depth of each winter against its freezing index, depth downward, beside two published
# relations.
# In: $winters (index, depth; one block a station), $relations (index, two depths), stations,
#     name1 ... (of the stations), right, deepest
canvas_x = 940
canvas_y = 600
load folder.'/common.gp'

set border 3
set xrange [0:right]
set yrange [deepest * 1.05:0]
set xlabel 'air freezing index of the winter, '.degree.' day'
eval upright('deepest frost, '.length_unit)
second = stations > 1 ? 'a point a winter; lines: published relations for ground clear of snow' : place_of(name1, 84)
set title "Frost depth against freezing index\n".second.tail noenhanced
if (is_text) {
    set key below
    set xtics step_of(right)
} else {
    set key outside right center Left reverse samplen 3 width 1
}
array marks[8] = [6, 4, 8, 10, 12, 2, 1, 3]
array tones[8] = [ink, blue, orange, soft, ink, blue, orange, soft]
array names[8]
do for [i = 1:stations] {
    names[i] = stations > 1 ? cut_to(value(sprintf('name%d', i)), 28) : 'a winter run'
}
plot for [i = 1:stations] $winters index i - 1 using 1:2 with points \
         pt marks[i] ps 0.7 lc rgb tones[i] title names[i], \
     $relations using 1:($2 > 0 ? $2 : NaN) with lines lc rgb ink lw 2.4 dt 1 title 'Chisholm & Phang 1983', \
     $relations using 1:3 with lines lc rgb ink lw 2.4 dt (10, 5) title 'Fair, Geyer & Okun'
