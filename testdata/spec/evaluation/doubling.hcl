let {
  l0 = "0123456789"
  l1 = "${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}${let.l0}"
  l2 = "${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}${let.l1}"
  l3 = "${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}${let.l2}"
  l4 = "${let.l3}${let.l3}"
  m0 = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10]
  m1 = [let.m0, let.m0, let.m0, let.m0, let.m0, let.m0, let.m0, let.m0, let.m0, let.m0]
  m2 = [let.m1, let.m1, let.m1, let.m1, let.m1, let.m1, let.m1, let.m1, let.m1, let.m1]
  m3 = [let.m2, let.m2, let.m2, let.m2, let.m2, let.m2, let.m2, let.m2, let.m2, let.m2]
  m4 = [let.m3, let.m3, let.m3, let.m3]
}
