from reformulate.recipes.review.values import Finding
