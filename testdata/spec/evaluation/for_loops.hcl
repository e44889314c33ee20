let {
  ten  = [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]
  many = [for a in let.ten : [for b in let.ten : [for c in let.ten : [for d in let.ten : [for e in let.ten : e]]]]]
}
