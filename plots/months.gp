# Time axis: a tic at the first of each month, with the year at the first one and each January.
# In: first_day, last_day, $months, n_months
set xrange [first_day:last_day]
unset xtics
set xtics ('' first_day) textcolor rgb ink nomirror out
do for [i = 1:n_months] {
    month_name = word($months[i], 2)
    year_name = words($months[i]) > 2 ? ' '.word($months[i], 3) : ''
    set xtics add (month_name[1:3].year_name word($months[i], 1) + 0)
}
